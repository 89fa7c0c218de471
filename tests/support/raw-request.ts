/** A request made by hand, so that every byte of its head is exactly what stands in the test. */
import { connect } from 'node:net';

/** `lines`: the head without its last empty line. Gives the whole answer as text; ends with the connection, or after `mostMs`. */
export function rawRequest(address: string, lines: readonly string[], body = '', mostMs = 2_000): Promise<string> {
  const { port, hostname } = new URL(address);
  return new Promise((resolve, reject) => {
    const socket = connect(Number(port), hostname);
    let answer = '';
    socket.setTimeout(mostMs, () => socket.destroy());
    socket.on('data', (bytes) => {
      answer += bytes.toString('latin1');
      if (answer.startsWith('HTTP/1.1 101')) socket.destroy();
    });
    socket.on('close', () => resolve(answer));
    socket.on('error', reject);
    socket.write(`${lines.join('\r\n')}\r\n\r\n${body}`);
  });
}

/** Of such an answer; 0 where there is none. */
export function statusOf(answer: string): number {
  return Number(/^HTTP\/1\.1 (\d{3})/.exec(answer)?.[1] ?? 0);
}

/** What makes a request one for a WebSocket (RFC 6455 §4.1). */
export const HANDSHAKE = [
  'Upgrade: websocket',
  'Connection: Upgrade',
  'Sec-WebSocket-Version: 13',
  'Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==',
];
