/**
 * Ports of this process's servers, over and over the same ones: to a browser the server that stands there next is the one before, and what it has
 * fetched from it is at hand.
 */
const known: number[] = [];

/** `open`: gives what stands at this port, or null where nothing can; 0 is any port. Rejects where none is to be had. */
export async function atPortAgain<Opened extends { readonly port: number }>(
  open: (port: number) => Promise<Opened | null>,
): Promise<Opened> {
  for (const port of [...known, 0]) {
    const opened = await open(port);
    if (opened === null) continue;
    if (!known.includes(opened.port)) known.push(opened.port);
    return opened;
  }
  throw new Error('there is no free port on the loopback address');
}
