/** A server that begins to listen at an address, or says what to do where it can't, and that stops. */
import type { Server } from 'node:http';
import type { Listen } from './config.ts';

/** How long requests may take to arrive, ms. */
export interface Arrival {
  readonly bodyMs: number;
  readonly uploadMs: number;
}

/**
 * What takes longer is no page of ours; a file may come over a poor radio link: 64 MB in ten minutes are less than 1 Mbit/s (ours).
 */
export const ARRIVAL: Arrival = { bodyMs: 30_000, uploadMs: 600_000 };

/** null: it listens. Otherwise why it cannot, in one sentence. */
export function listening(server: Server, { host, port }: Listen): Promise<string | null> {
  return new Promise((resolve) => {
    server.once('error', (error: NodeJS.ErrnoException) => resolve(whyDeaf(error, host, port)));
    server.listen({ host, port, exclusive: true }, () => resolve(null));
  });
}

function whyDeaf({ code, message }: NodeJS.ErrnoException, host: string, port: number): string {
  const place = `${host}:${port}`;
  switch (code) {
    case 'EADDRINUSE':
      return `${place} is in use, perhaps by another Bowlside. Stop that one, or choose another address with --listen ${host}:PORT.`;
    case 'EACCES':
      return `${place} may not be used by this user. Choose another port with --listen ${host}:PORT.`;
    case 'EADDRNOTAVAIL':
    case 'ENOTFOUND':
      return `${host} is not an address of this machine. Choose one with --listen HOST:PORT.`;
    default:
      return `${place} cannot be listened at: ${message}.`;
  }
}

/** Leaves no connection open. */
export function closed(server: Server): Promise<void> {
  return new Promise((resolve) => {
    server.close(() => resolve());
    server.closeAllConnections();
  });
}
