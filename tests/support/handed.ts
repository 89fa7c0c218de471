/** Handing runs over and bringing files in through the real server, as a page does. */
import { type Kitchen, openKitchen } from './server.ts';

export interface Told {
  readonly status: number;
  readonly body: Readonly<Record<string, unknown>>;
}

/** The exported run as text. Waits until what was said last is on disk. */
export async function exported({ bowl, http }: Kitchen, run: string, file = 'trace.jsonl'): Promise<string> {
  await bowl.store.flush();
  const response = await fetch(new URL(`/api/runs/${run}/${file}`, http.address));
  if (!response.ok) throw new Error(`${run}/${file}: ${response.status} ${await response.text()}`);
  // Not `text()`, which swallows a byte-order mark.
  return new TextDecoder('utf-8', { ignoreBOM: true }).decode(await response.arrayBuffer());
}

export async function sent(
  { http }: Kitchen,
  file: string | Uint8Array<ArrayBuffer>,
  query: Readonly<Record<string, string>> = {},
  path = 'imports',
): Promise<Told> {
  const address = new URL(`/api/${path}?${new URLSearchParams(query).toString()}`, http.address);
  const headers = { 'content-type': 'application/octet-stream', origin: http.address };
  const response = await fetch(address, { method: 'POST', headers, body: file });
  return { status: response.status, body: (await response.json()) as Told['body'] };
}

/** Notes and cards were written then. */
export const WALL = '2026-11-25T09:30:00.000Z';

/** A kitchen with a run that has notes, one of them struck out, and a card. */
export async function kitchenWithRun(): Promise<{ readonly kitchen: Kitchen; readonly run: string }> {
  const kitchen = await openKitchen();
  const { bowl } = kitchen;
  const run = bowl.begin();
  bowl.ramp(30, 46, 200);
  bowl.session.feed({ atMs: bowl.clock.nowMs(), source: 'test', kind: 'line', text: 'junk \u0000\u00ff"\\' });
  bowl.says({ name: 'act', act: 'off-heat' });
  bowl.session.annotate(run, {
    id: 'n-2',
    atMs: 60_000,
    text: 'lumps; "left"\n=still',
    by: 'Ana',
    writtenAtWall: WALL,
  });
  bowl.session.annotate(run, {
    id: 'n-1',
    atMs: 90_000,
    untilMs: 95_000,
    tags: ['ginger'],
    text: 'gone',
    by: null,
    writtenAtWall: WALL,
  });
  bowl.session.annotate(run, {
    id: 'n-3',
    atMs: 60_000,
    text: '',
    by: null,
    writtenAtWall: WALL,
    replaces: 'note-n-2',
  });
  bowl.store.changeCard(run, { writtenAtWall: WALL, by: 'Ana', change: { lot: 'G-117', kg: 2.5 } });
  bowl.store.changeCard(run, { writtenAtWall: WALL, by: null, change: { tags: ['tray 2'], allergens: 'milk, soy' } });
  await bowl.store.flush();
  return { kitchen, run };
}
