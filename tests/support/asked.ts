/** Asking a kitchen's server over HTTP, as our page asks. */
import { type Kitchen, openKitchen } from './server.ts';

export interface Answer {
  readonly status: number;
  readonly type: string;
  readonly body: Record<string, unknown> & Record<number, unknown>;
}

export async function get({ http }: Kitchen, path: string): Promise<Answer> {
  return answered(await fetch(new URL(path, http.address)));
}

/** JSON, or text that may be none, with the page's own origin. */
export async function post(
  { http }: Kitchen,
  path: string,
  body: unknown,
  headers: Record<string, string> = {},
): Promise<Answer> {
  const text = typeof body === 'string' ? body : JSON.stringify(body);
  const all = { 'content-type': 'application/json', origin: http.address, ...headers };
  return answered(await fetch(new URL(path, http.address), { method: 'POST', headers: all, body: text }));
}

export async function remove({ http }: Kitchen, path: string): Promise<Answer> {
  return answered(await fetch(new URL(path, http.address), { method: 'DELETE', headers: { origin: http.address } }));
}

async function answered(response: Response): Promise<Answer> {
  const type = response.headers.get('content-type') ?? '';
  return { status: response.status, type, body: (await response.json()) as Answer['body'] };
}

/** A run is going, and what it has so far is on disk. */
export async function withRun(): Promise<Kitchen & { readonly run: string }> {
  const kitchen = await openKitchen();
  const run = kitchen.bowl.begin();
  await kitchen.bowl.store.flush();
  return { ...kitchen, run };
}
