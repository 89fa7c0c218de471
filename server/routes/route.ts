/**
 * One thing that may be asked of the server, with all that has to be known to answer it, refuse it and describe it. Knows no web framework:
 * `web-app.ts` puts routes on the wire.
 */
import type { JsonSchema, Shape } from '../core/record/shape.ts';
import type { Visitor } from '../pairing/gate.ts';
import type { Needed } from '../pairing/role.ts';

/** A question that has passed the checks of its route. */
export interface Asked {
  /** By the names in the route's path, decoded. */
  readonly params: Readonly<Record<string, string>>;
  /** Those of the route's `query` that were given. */
  readonly query: Readonly<Record<string, string>>;
  /** Decoded JSON that fits `body`, or the text of what was uploaded; undefined where the route takes neither. */
  readonly body: unknown;
  /** Who asks. */
  readonly by: Visitor;
}

export type Answer =
  | { readonly kind: 'json'; readonly status?: 200 | 201; readonly value: unknown }
  /** `name`: as what a browser saves it; null: shown in the page. Pieces are sent as the reader takes them. */
  | {
      readonly kind: 'file';
      readonly type: string;
      readonly name: string | null;
      readonly content: string | Uint8Array | Iterable<string> | AsyncIterable<Uint8Array>;
      /** A page that brings its own look: the text of its style element, the only one that is let run in it. */
      readonly style?: string;
    }
  /** RFC 9457. `detail`: the sentence for the person. `path`: the place in the body that is at fault. */
  | {
      readonly kind: 'problem';
      readonly status: number;
      readonly title: string;
      readonly detail: string;
      readonly path?: string;
    };

/** A body that is a file rather than JSON. */
export interface Upload {
  readonly type: string;
  /** Largest size, bytes. */
  readonly mostBytes: number;
}

export interface Route {
  readonly method: 'get' | 'post' | 'put' | 'delete';
  /** Under `/api`, variables in braces: `/runs/{run}/notes`. */
  readonly path: string;
  /** Who may ask it at least; absent: whoever looks on may get, and who takes part may change. */
  readonly role?: Needed;
  /** One sentence for those who read the list of routes. */
  readonly does: string;
  /** What stands before its refusals of a body: `Not a note`. */
  readonly refusal?: string;
  /** Each value as text; all are optional. */
  readonly query?: Readonly<Record<string, Shape>>;
  readonly body?: Shape;
  /** What the body is called where something in it is wrong: `command` in `command.phase`. */
  readonly called?: string;
  readonly upload?: Upload;
  /** What it gives when all is well: JSON of this form (`status` where it is not 200 alone), or a file of this media type. */
  readonly gives:
    { readonly json: JsonSchema; readonly status?: 201 | readonly [200, 201] } | { readonly file: string };
  /** How else it may be refused than every question of its kind. */
  readonly problems?: readonly (409 | 503 | 507)[];
  readonly answer: (asked: Asked) => Answer | Promise<Answer>;
}

/** What a route needs. */
export function roleFor({ role, method }: Route): Needed {
  return role ?? (method === 'get' ? 'watch' : 'control');
}

export function json(value: unknown, status: 200 | 201 = 200): Answer {
  return { kind: 'json', status, value };
}

export function problem(status: number, title: string, detail: string, path?: string): Answer {
  return { kind: 'problem', status, title, detail, ...(path === undefined ? {} : { path }) };
}

/** For what was handed over to the store, which goes on trying. */
export const NOT_ON_DISK = problem(
  503,
  'Not on disk yet',
  'The disk does not take it now. It is kept in memory and tried again.',
);
