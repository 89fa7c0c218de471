/**
 * Who may talk to this server: a request has to name an address we really answer at, and a page has to come from there.
 * Keeps other web pages open in the same browser, and names pointed at us by others, out. Knows nothing of what is asked for.
 */
import type { IncomingMessage } from 'node:http';
import { networkInterfaces } from 'node:os';

/** How a page of ours is recognised: whole values, compared character for character. */
export interface Door {
  /** Values of `Host` we answer to. */
  readonly hosts: ReadonlySet<string>;
  /** Values of `Origin` our own pages have. */
  readonly origins: ReadonlySet<string>;
}

const LOOPBACK = ['localhost', '127.0.0.1', '[::1]'];
/** All that a server can be told to listen at by name. */
const EVERYWHERE = ['0.0.0.0', '::'];
/** The port a browser leaves out of `Host` and `Origin` (RFC 9110 §4.2.1). */
const UNSPOKEN_PORT = 80;

/** The door of a server that listens at `host` on `port`. Listening everywhere means at each address of this machine. */
export function doorAt(host: string, port: number): Door {
  const names = new Set([...LOOPBACK, ...namesOf(host)]);
  const hosts = [...names].flatMap((name) => spellings(name, port));
  return { hosts: new Set(hosts), origins: new Set(hosts.map((spelling) => `http://${spelling}`)) };
}

/** Whether only this machine can reach what listens there. */
export function isLoopback(host: string): boolean {
  return host === 'localhost' || host === '::1' || host.startsWith('127.');
}

/** Whether it means every address of this machine. */
export function isEverywhere(host: string): boolean {
  return EVERYWHERE.includes(host);
}

/** What to open in a browser. */
export function addressOf(host: string, port: number): string {
  const name = isEverywhere(host) ? 'localhost' : host.includes(':') ? `[${host}]` : host;
  return `http://${name}:${port}`;
}

function namesOf(host: string): string[] {
  const addresses = isEverywhere(host) ? ownAddresses() : [host];
  return addresses.map((address) => (address.includes(':') ? `[${address}]` : address).toLowerCase());
}

function ownAddresses(): string[] {
  return Object.values(networkInterfaces()).flatMap((entries) => (entries ?? []).map((entry) => entry.address));
}

function spellings(name: string, port: number): string[] {
  return port === UNSPOKEN_PORT ? [name, `${name}:${port}`] : [`${name}:${port}`];
}

/**
 * Whether the request names us as its host, exactly once and as a path of ours, and no foreign page sent it. A request without `Origin`
 * is welcome: browsers always send one with what changes something from elsewhere.
 */
export function isWelcome(door: Door, request: IncomingMessage): boolean {
  const origins = valuesOf(request, 'origin');
  return namesUs(door, request) && origins.every((origin) => door.origins.has(origin)) && origins.length <= 1;
}

/** The same for a socket, where the browser's own rule about foreign pages does not hold: the origin has to be there, and ours. */
export function isOwnPage(door: Door, request: IncomingMessage): boolean {
  return isWelcome(door, request) && valuesOf(request, 'origin').length === 1;
}

function namesUs(door: Door, request: IncomingMessage): boolean {
  const hosts = valuesOf(request, 'host');
  return hosts.length === 1 && door.hosts.has(hosts[0]!) && (request.url ?? '').startsWith('/');
}

/** Every value as it came: the parsed headers keep only the first of a doubled one. */
function valuesOf(request: IncomingMessage, name: string): string[] {
  return request.rawHeaders.filter((_, i, raw) => i % 2 === 1 && raw[i - 1]!.toLowerCase() === name);
}
