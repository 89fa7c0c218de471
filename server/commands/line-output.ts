/** Lines to a stream that may be slow, or be gone: `bowlside replay … | head` is no error. Knows nothing of what the lines say. */
import type { Writable } from 'node:stream';

/**
 * A function that writes one line. It returns a promise while the stream is full, resolved when more may follow; once the
 * reader is gone (EPIPE) lines are dropped without a word. Any other error of the stream is thrown where it occurs, or, where
 * nothing may end for it (`bearsAll`: a terminal that was closed, a log on a full disk), borne in the same way.
 */
export function linesTo(stream: Writable, bearsAll = false): (line: string) => void | Promise<void> {
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (!bearsAll && error.code !== 'EPIPE') throw error;
  });
  return (line) => (!stream.writable || stream.write(`${line}\n`) ? undefined : roomIn(stream));
}

/** Resolves when the stream takes more, or will never take any. */
function roomIn(stream: Writable): Promise<void> {
  return new Promise((resolve) => {
    const events = ['drain', 'close', 'error'];
    const done = () => {
      for (const event of events) stream.off(event, done);
      resolve();
    };
    for (const event of events) stream.on(event, done);
  });
}
