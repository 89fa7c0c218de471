/** Under which addresses other machines reach this one: what a pairing code is carried to a telephone with. */
import { networkInterfaces } from 'node:os';
import { addressOf, isEverywhere } from '../visitors.ts';

export interface At {
  readonly host: string;
  readonly port: number;
}

/**
 * Whole addresses, the likeliest first: where the asking page came to, if that is no loopback; then those of every other interface.
 * Link-local ones of IPv6 are left out, for no browser takes their zone.
 */
export function reachedAt({ host, port }: At, cameTo: string | null, interfaces = networkInterfaces()): string[] {
  const entries = Object.values(interfaces).flatMap((each) => each ?? []);
  const outward = entries.filter(({ internal, address }) => !internal && !/^fe80:/i.test(address));
  const families = host === '0.0.0.0' ? ['IPv4'] : ['IPv4', 'IPv6'];
  const all = families.flatMap((family) => outward.filter((entry) => entry.family === family));
  const known = isEverywhere(host) ? all.map(({ address }) => address) : [host];
  const first = known.filter((address) => address === cameTo);
  return [...new Set([...first, ...known])].map((address) => addressOf(address, port));
}

/** What a telephone's camera opens. */
export function invitationLink(address: string, code: string): string {
  return `${address}/pair?code=${code}`;
}
