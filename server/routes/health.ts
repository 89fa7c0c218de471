/** Whether all is well: is the disk taking what is read, and how does each bowl stand. */
import type { Session } from '../session/session.ts';
import type { Store } from '../store/store.ts';
import { healthShape } from './answers.ts';
import { json, type Route } from './route.ts';

export interface HealthNeeds {
  readonly sessions: ReadonlyMap<string, Session>;
  readonly store: Pick<Store, 'health'>;
}

export function healthRoutes({ sessions, store }: HealthNeeds): Route[] {
  return [
    {
      method: 'get',
      path: '/health',
      role: 'none',
      does: 'Whether the server is well.',
      gives: { json: healthShape.schema },
      answer: ({ by }) => {
        const health = store.health();
        // A stranger on the network learns that it is there, and no more.
        if (by.role === null) return json({ ok: health.recording });
        const bowls = Array.from(sessions.values(), (session) => session.status());
        return json({ ok: health.recording, store: health, bowls });
      },
    },
  ];
}
