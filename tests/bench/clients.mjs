/**
 * Pages without a screen, in a process of their own, so that what they cost is not counted with the server's. Told by its parent whom to dial;
 * says when all are let in, and then each time that all have heard so many messages that say `news`, how many characters those had in all.
 */
import { WebSocket } from 'ws';

process.on('message', ({ urls, origin, messages }) => {
  let open = 0;
  let finished = 0;
  let characters = 0;
  for (const url of urls) {
    let heard = 0;
    const socket = new WebSocket(url, { origin, perMessageDeflate: false });
    socket.on('open', () => {
      open += 1;
      if (open === urls.length) process.send('open');
    });
    socket.on('message', (/** @type {Buffer} */ data) => {
      const text = data.toString();
      if (!text.includes('"kind":"news"')) return;
      characters += text.length;
      heard += 1;
      if (heard % messages !== 0) return;
      finished += 1;
      if (finished !== urls.length) return;
      process.send(characters);
      finished = 0;
      characters = 0;
    });
  }
});
