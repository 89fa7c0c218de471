/** Questions to a server as our page asks them: JSON, with its own origin. */

export interface Reply {
  readonly status: number;
  /** Decoded where it is JSON, else its text. */
  readonly body: unknown;
}

export function asks(address: string) {
  const ask = async (method: string, path: string, body?: unknown): Promise<Reply> => {
    const headers = { origin: address, ...(body === undefined ? {} : { 'content-type': 'application/json' }) };
    const sent = body === undefined ? {} : { body: JSON.stringify(body) };
    const response = await fetch(new URL(path, address), { method, headers, ...sent });
    return replyOf(response);
  };
  return {
    /** A file as it is. */
    send: async (path: string, file: string): Promise<Reply> => {
      const headers = { origin: address, 'content-type': 'application/octet-stream' };
      return replyOf(await fetch(new URL(path, address), { method: 'POST', headers, body: file }));
    },
    get: (path: string) => ask('GET', path),
    post: (path: string, body: unknown = {}) => ask('POST', path, body),
    put: (path: string, body: unknown) => ask('PUT', path, body),
    remove: (path: string) => ask('DELETE', path),
  };
}

async function replyOf(response: Response): Promise<Reply> {
  const text = await response.text();
  const isJson = (response.headers.get('content-type') ?? '').split(';')[0]!.endsWith('json');
  return { status: response.status, body: isJson ? (JSON.parse(text) as unknown) : text };
}
