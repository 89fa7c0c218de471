/** What the page asks of Bowlside over HTTP, and its commands. Failure is a value with words for the person. */
import type { Command } from '../server/core/record/command.ts';
import { POST } from './words/page.ts';

/** `at`: the place in what was sent that is at fault, and the rule it breaks. */
export type Answer<Value> =
  { readonly ok: true; readonly value: Value } | { readonly ok: false; readonly why: string; readonly at?: Fault };

export interface Fault {
  readonly path: string;
  readonly rule: string;
}

/** A profile is chosen by its id; the server puts the whole of it into the trace. */
export type PageCommand =
  | Exclude<Command, { name: 'choose-profile' }>
  | (Pick<Extract<Command, { name: 'choose-profile' }>, 'name' | 'condition'> & { readonly profile: string });

/** Longer than this and the person should know that nothing happened, ms (ours). */
const GIVE_UP_AFTER_MS = 8_000;

export function postCommand(bowl: string, command: PageCommand): Promise<Answer<unknown>> {
  return ask(`/api/bowls/${encodeURIComponent(bowl)}/commands`, command);
}

/** With a body it is posted, unless another method is named. */
export async function ask(
  path: string,
  body?: unknown,
  method = body === undefined ? 'GET' : 'POST',
  patienceMs = GIVE_UP_AFTER_MS,
): Promise<Answer<unknown>> {
  const headers = { 'content-type': 'application/json' };
  const sent = body === undefined ? {} : { headers, body: JSON.stringify(body) };
  return send(path, { method, ...sent }, patienceMs, bodyOf);
}

/** `read`: what is made of the answer; a refusal comes in the words of the server. */
export async function send<Value>(
  path: string,
  request: RequestInit,
  patienceMs: number,
  read: (response: Response) => Promise<Value>,
): Promise<Answer<Value>> {
  try {
    const response = await fetch(path, { ...request, signal: AbortSignal.timeout(patienceMs) });
    return response.ok ? { ok: true, value: await read(response) } : refused(await bodyOf(response));
  } catch {
    return { ok: false, why: POST.unreachable };
  }
}

export async function bodyOf(response: Response): Promise<unknown> {
  const text = await response.text();
  try {
    return text === '' ? null : (JSON.parse(text) as unknown);
  } catch {
    return null;
  }
}

function refused(value: unknown): Answer<never> {
  const why = whyOf(value) ?? POST.unreachable;
  if (!hasFields<{ readonly path: unknown }>('path')(value) || typeof value.path !== 'string')
    return { ok: false, why };
  const rule = hasFields<{ readonly rule: unknown }>('rule')(value) ? String(value.rule) : why;
  return { ok: false, why, at: { path: value.path, rule } };
}

function whyOf(value: unknown): string | null {
  if (typeof value !== 'object' || value === null) return null;
  const words = Object.values(value).find((field) => typeof field === 'string');
  return words ?? null;
}

export function hasFields<Item extends object>(
  ...names: readonly (keyof Item & string)[]
): (value: unknown) => value is Item {
  return (value): value is Item =>
    typeof value === 'object' && value !== null && names.every((name) => Object.hasOwn(value, name));
}
