/**
 * The host rings where no screen does: a terminal bell, a command, until somebody has seen the alarm or it is over, and not for ever. Also
 * knows when a bowl has been left alone, and nothing should sound at all. Decides from what the session tells, as a page does.
 */
import { Attendance } from './attendance.ts';
import type { Ringer, Rung } from './ringer.ts';
import { bellWords, carefulWords } from './words.ts';
import { isLeftAlone } from '../core/show/resting.ts';
import { ringing } from '../core/show/ringing.ts';
import type { NowMessage } from '../core/show/wire.ts';
import type { Session } from '../session/session.ts';
import type { Clock } from '../source/source.ts';

/** From one ring to the next, ms. Ours. */
export const RING_EVERY_MS: Readonly<Record<Rung['severity'], number>> = { critical: 5_000, warning: 10_000 };
/** So often for one alarm, and then no more: ten minutes of a critical one. Ours. */
export const MAX_RINGS = 120;

/** How often it is looked at whether to ring, ms (ours: nobody tells a second from none). */
const LOOK_EVERY_MS = 1_000;

export interface BellOptions {
  readonly session: Pick<Session, 'onTell' | 'catchUp' | 'now'>;
  readonly clock: Clock;
  /** Pages that an alarm would be heard from. */
  readonly audible: () => number;
  /** What the bowl is called where there are several; null or absent: it is the only one. */
  readonly name?: () => string | null;
  /** None: the host is silent. */
  readonly ringers: readonly Ringer[];
}

/** An alarm that wants to be heard, by what tells it from any other. */
interface Wanted extends Rung {
  readonly key: string;
}

export class Bell {
  readonly #options: BellOptions;
  readonly #attendance = new Attendance();
  #isLeftAlone = false;
  #key: string | null = null;
  #times = 0;
  #nextAtMs = 0;
  #timer: NodeJS.Timeout | undefined;

  constructor(options: BellOptions) {
    this.#options = options;
  }

  /** To be called once, when it is settled which run goes on. */
  start(): void {
    const { session, clock } = this.#options;
    for (const message of session.catchUp(null)) this.#attendance.hear(message, clock.nowMs());
    session.onTell((message) => this.#attendance.hear(message, clock.nowMs()));
    this.#timer = setInterval(() => this.look(), LOOK_EVERY_MS);
  }

  /** Leaves nothing ringing and nothing running. */
  close(): void {
    clearInterval(this.#timer);
    for (const ringer of this.#options.ringers) ringer.close();
  }

  /** Nobody has been near for long, and the bowl rests: neither page nor host should sound. */
  get isLeftAlone(): boolean {
    return this.#isLeftAlone;
  }

  /** Rings if it is time. */
  look(): void {
    const now = this.#options.session.now(0);
    this.#isLeftAlone = this.#leftAlone(now);
    const wanted = this.#wanted(now);
    if (wanted?.key !== this.#key) {
      this.#key = wanted?.key ?? null;
      this.#times = 0;
      this.#nextAtMs = now.atMs;
    }
    if (wanted === null || this.#isLeftAlone || this.#options.audible() > 0) return;
    if (this.#times >= MAX_RINGS || now.atMs < this.#nextAtMs) return;
    this.#times++;
    this.#nextAtMs = now.atMs + RING_EVERY_MS[wanted.severity];
    for (const ringer of this.#options.ringers) ringer.ring(wanted);
  }

  #leftAlone(now: NowMessage): boolean {
    const { view, tendedAtMs } = this.#attendance;
    if (view.info === null || view.ended !== null) return false;
    const { alarms } = view;
    return isLeftAlone(this.#isLeftAlone, { tendedAtMs, profile: view.info.profile, alarms, now });
  }

  /** The worst. Without a run that is only the ceiling of chocolate nobody has named. */
  #wanted({ atMs, careful }: NowMessage): Wanted | null {
    const name = this.#options.name?.() ?? null;
    if (careful !== null) {
      const words = named(name, carefulWords(careful.limitC));
      return { key: 'careful', alarm: 'scorch', severity: 'warning', words };
    }
    const worst = ringing(this.#attendance.view.alarms, atMs)[0];
    if (worst === undefined) return null;
    const { alarm, raisedAtMs } = worst;
    const severity = worst.severity === 'critical' ? 'critical' : 'warning';
    return { key: `${alarm} ${raisedAtMs}`, alarm, severity, words: named(name, bellWords(worst)) };
  }
}

/** Whoever hears it has to know which bowl to run to. */
function named(name: string | null, words: string): string {
  return name === null ? words : `${name}: ${words}`;
}
