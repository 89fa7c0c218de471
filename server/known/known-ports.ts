/**
 * How to speak with each thermometer: the speed that was found, and what a person wants it to be asked. Remembered between starts by
 * its `thermometerId`; a yes to asking can be taken back at any time.
 */
import type { Config } from '../config.ts';
import { type KnownPort, readSettings, rememberPort, UNKNOWN_PORT } from '../settings.ts';
import type { Query } from '../source/asking.ts';
import { knownAs, thermometerId } from '../source/ports.ts';
import type { SerialOptions, Where } from '../source/serial.ts';

export class KnownPorts {
  readonly #folder: string;
  /** Holds where the folder cannot be written, too. */
  readonly #known = new Map<string, KnownPort>();

  /** `folder`: where the settings lie. */
  constructor(folder: string) {
    this.#folder = folder;
  }

  of(id: string): KnownPort {
    const known = this.#known.get(id) ?? readSettings(this.#folder).ports[id] ?? UNKNOWN_PORT;
    this.#known.set(id, known);
    return known;
  }

  foundBaud(id: string, baud: number): void {
    if (this.of(id).baud !== baud) this.#change(id, (known) => ({ ...known, baud }));
  }

  /** null: it is not to be asked any more. */
  setQuery(id: string, query: Query | null): void {
    this.#change(id, (known) => ({ ...known, query }));
  }

  #change(id: string, change: (known: KnownPort) => KnownPort): void {
    this.#known.set(id, change(this.of(id)));
    rememberPort(this.#folder, id, change);
  }
}

export interface SpeechNeeds {
  readonly ports: KnownPorts;
  /** Of a port named by hand: the name of what is plugged in there, by that of its path. */
  readonly names: Readonly<Record<string, string>>;
}

/** How thermometers are spoken with: what the flags of this start say of one, else what is known of it. */
export function speechOf(
  { port, baud, query }: Pick<Config, 'port' | 'baud' | 'query'>,
  { ports, names }: SpeechNeeds,
) {
  /** A yes by flag counts until somebody says otherwise on the page. */
  let flagged = query;
  const isNamed = (where: Where): boolean => 'path' in where && where.path === port;
  return {
    with(where: Where) {
      const id = names[thermometerId(where)] ?? thermometerId(where);
      const { baud: firstBaud } = ports.of(id);
      return {
        ...(isNamed(where) && baud !== null ? { baud } : {}),
        ...(firstBaud === null ? {} : { firstBaud }),
        onBaud: (found) => ports.foundBaud(id, found),
        // Looked up anew at each opening: at a path another device may be open now, and a yes is one thermometer's.
        queryAt: async () => (isNamed(where) ? flagged : null) ?? ports.of(await knownAs(where)).query,
      } satisfies Partial<SerialOptions>;
    },
    async rememberQuery(where: Where, wanted: Query | null): Promise<void> {
      if (isNamed(where)) flagged = null;
      ports.setQuery(await knownAs(where), wanted);
    },
  };
}
