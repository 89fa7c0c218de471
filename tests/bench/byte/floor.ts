/** The least that can bring a thermometer's number onto a page: port, readline parser, socket, `textContent`; nothing is read, judged or kept. */
import { once } from 'node:events';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { ReadlineParser } from '@serialport/parser-readline';
import { SerialPort } from 'serialport';
import { WebSocketServer } from 'ws';

const PAGE = `<!doctype html><title>floor</title><p class="number">—</p><script>
new WebSocket('ws://' + location.host).onmessage = ({ data }) => (document.querySelector('.number').textContent = data);
</script>`;

export interface Served {
  readonly address: string;
  readonly close: () => Promise<void>;
}

export async function serveFloor(path: string): Promise<Served> {
  const server = createServer((_, response) => response.writeHead(200, { 'content-type': 'text/html' }).end(PAGE));
  const sockets = new WebSocketServer({ server, perMessageDeflate: false });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const port = new SerialPort({ path, baudRate: 9600, hupcl: false });
  port.pipe(new ReadlineParser({ delimiter: '\r\n' })).on('data', (text: string) => {
    for (const socket of sockets.clients) socket.send(text);
  });
  await once(port, 'open');
  return {
    address: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    close: async () => {
      port.close();
      await once(port, 'close');
      for (const socket of sockets.clients) socket.terminate();
      sockets.close();
      server.closeAllConnections();
      server.close();
    },
  };
}
