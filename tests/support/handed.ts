/** Handing runs over and bringing files in through the real server, as a page does. */
import type { Kitchen } from './server.ts';

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
