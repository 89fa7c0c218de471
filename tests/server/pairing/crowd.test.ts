/** Connections held over a network. The sockets are stood in for: here there is but one machine. Addresses of RFC 5737. */
import { EventEmitter } from 'node:events';
import type { Server } from 'node:net';
import { describe, expect, test } from 'vitest';
import { CONNECTIONS_MOST, keepFromCrowding } from '../../../server/pairing/crowd.ts';

class HeldSocket extends EventEmitter {
  readonly localAddress = '192.0.2.1';
  readonly remoteAddress: string;
  isCut = false;

  constructor(remoteAddress: string) {
    super();
    this.remoteAddress = remoteAddress;
  }

  destroy(): void {
    this.isCut = true;
    this.emit('close');
  }
}

function guarded() {
  const server = new EventEmitter();
  keepFromCrowding(server as unknown as Server);
  return (address: string): HeldSocket => {
    const socket = new HeldSocket(address);
    server.emit('connection', socket);
    return socket;
  };
}

describe('connections of one address', () => {
  test('are cut off beyond so many, and those of others are not', () => {
    const connect = guarded();
    const held = Array.from({ length: CONNECTIONS_MOST }, () => connect('192.0.2.7'));
    expect(held.some(({ isCut }) => isCut)).toBe(false);
    expect(connect('192.0.2.7').isCut).toBe(true);
    expect(connect('::ffff:192.0.2.7').isCut).toBe(true);
    expect(connect('192.0.2.8').isCut).toBe(false);
    held[0]!.destroy();
    expect(connect('192.0.2.7').isCut).toBe(false);
    expect(connect('192.0.2.7').isCut).toBe(true);
  });

  test('of this machine are not counted', () => {
    const connect = guarded();
    for (const address of ['127.0.0.1', '::1', '192.0.2.1'])
      for (let i = 0; i <= CONNECTIONS_MOST; i++) expect(connect(address).isCut).toBe(false);
  });
});
