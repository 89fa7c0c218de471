/** How many connections one address over a network may hold: nobody there fills the server, and the kitchen's own screens still come in. */
import type { Server, Socket } from 'node:net';
import { isOfHere, plain } from './role.ts';

/** Ours: four bowls' sockets and what a browser fetches beside them, for six screens behind one address. */
export const CONNECTIONS_MOST = 64;

/** Cuts off each one more than that, before a byte of it is read. */
export function keepFromCrowding(server: Pick<Server, 'on'>): void {
  const held = new Map<string, number>();
  server.on('connection', (socket: Socket) => {
    if (isOfHere(socket)) return;
    const address = plain(socket.remoteAddress);
    const already = held.get(address) ?? 0;
    if (already >= CONNECTIONS_MOST) return void socket.destroy();
    held.set(address, already + 1);
    socket.once('close', () => {
      const left = held.get(address)! - 1;
      if (left === 0) held.delete(address);
      else held.set(address, left);
    });
  });
}
