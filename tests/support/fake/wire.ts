/** What carries a fake thermometer: a virtual port under the real library, or a pseudo-terminal. Both obey the same deeds. */
import type { ListPorts } from '../../../server/source/serial-port.ts';
import type { OthersAt } from '../../../server/source/others.ts';
import type { PortIdentity } from '../../../server/source/ports.ts';
import type { Deed, Device } from './deeds.ts';

export interface Wire {
  /** The ports that are there now, as a system would list them. */
  readonly list: ListPorts;
  /** What to remember the thermometer by. */
  readonly identity: PortIdentity;
  /** At once, whatever its moment says. */
  obey(deed: Deed): Promise<void>;
  /** Everything is pulled out. Safe to call twice. */
  close(): Promise<void>;
}

/** The unassigned vendor that was given to open hardware, and a product of it that is nobody's. */
const MAKE = { vendorId: '1209', productId: '0001' } as const;

/** `serials` false: of a make without serial numbers, as many cheap bridges are. */
export function serialNumberOf(device: Device, serials: boolean): string | null {
  if (!serials) return null;
  return device === 'own' ? 'bowl-7' : 'bowl-8';
}

export function socketName(socket: number): string {
  return `socket-${socket}`;
}

/** One port that is plugged in, for a list. */
export function listedAt(path: string, device: Device, socket: number, serials: boolean) {
  const serialNumber = serialNumberOf(device, serials);
  return { path, ...MAKE, serialNumber, position: socketName(socket), maker: null };
}

export function identityAt(path: string, serials: boolean): PortIdentity {
  const { maker: _maker, ...identity } = listedAt(path, 'own', 1, serials);
  return identity;
}

/** No other program is looked for: there is none at a virtual port, and looking takes the machine's time. */
export const NO_OTHERS: OthersAt = () => Promise.resolve([]);

/** A virtual port has no file; and looking for one takes time that is not of a virtual clock. */
export const NO_GROUP = (): Promise<null> => Promise.resolve(null);

/**
 * Plays deeds in their order. `until` resolves when the moment has come, ms since the first: by a clock moved by hand or by the
 * machine's own.
 */
export async function played(
  deeds: readonly Deed[],
  wire: Wire,
  until: (atMs: number) => Promise<void>,
): Promise<void> {
  for (const deed of deeds) {
    await until(deed.atMs);
    await wire.obey(deed);
  }
}
