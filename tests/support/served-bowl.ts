/** A bowl in the test's hands behind the real server, socket and built page, with no thermometer. Loopback only; closed when the test is over. */
import { randomUUID } from 'node:crypto';
import { onTestFinished } from 'vitest';
import { type Http, type HttpOptions, openHttp } from '../../server/http.ts';
import { allRoutes } from '../../server/routes/routes.ts';
import { readOwn, Shelf } from '../../server/shelf.ts';
import { Live } from '../../server/live.ts';
import { WEB_FOLDER } from './scripted-bowl.ts';
import { benchAround } from './bench.ts';
import { atPortAgain } from './ports.ts';
import { type Doorkeeper, doorkeeper } from './doorkeeper.ts';
import { backupsOf, judgingOf, openBowl } from './server.ts';
import { shipped } from './shipped.ts';

async function openAgain(options: Omit<HttpOptions, 'listen'>): Promise<Http> {
  return atPortAgain(async (port) => {
    const opened = await openHttp({ ...options, listen: { host: '127.0.0.1', port } });
    return opened.ok ? opened.http : null;
  });
}

/**
 * The real server and the built page around a bowl in the test's hands, on a fresh data folder or a given one. `wallNowMs`: what the server
 * takes for the time of day.
 */
export async function openKitchenWithPage(
  folder?: string,
  wallNowMs = Date.now,
  { guests, gate }: Doorkeeper = doorkeeper(),
  host = '127.0.0.1',
) {
  const bowl = openBowl(folder);
  const { bench, ...onBench } = benchAround(bowl);
  const { sessions } = onBench;
  const judging = judgingOf(bowl.store);
  const backups = backupsOf(bowl, judging);
  const shelf = new Shelf([shipped('dark'), shipped('milk')], readOwn(bowl.store.folder));
  const routes = allRoutes({
    shelf,
    backups,
    ...onBench,
    store: bowl.store,
    notices: () => bowl.store.notices,
    judging,
    guests,
    listensAt: () => ({ host, port: http.port }),
    wallNowMs,
    newId: randomUUID,
  });
  const http = await openAgain({ webFolder: WEB_FOLDER, routes: async () => routes, gate, guests });
  const clock = { nowMs: () => Math.floor(performance.now()) };
  const live = new Live({
    server: http.server,
    door: http.door,
    gate,
    epoch: randomUUID(),
    clock,
    sessions,
    bowls: () => bench.now.bowls,
  });
  onBench.shownBy(live);
  guests.onGone((guest) => live.dismiss(guest));
  onTestFinished(async () => {
    await live.close();
    await http.close();
  });
  return { bowl, live, shelf, address: http.address, bench: onBench };
}
