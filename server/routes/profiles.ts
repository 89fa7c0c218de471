/** The profiles a run can be made by. */
import type { Profile } from '../core/record/profile.ts';
import { profileShape } from '../core/record/profile-shape.ts';
import { json, type Route } from './route.ts';

export interface ProfileNeeds {
  readonly profiles: () => readonly Profile[];
}

export function profileRoutes({ profiles }: ProfileNeeds): Route[] {
  return [
    {
      method: 'get',
      path: '/profiles',
      does: 'All profiles, each in full.',
      gives: { json: { type: 'array', items: profileShape.schema } },
      answer: () => json(profiles()),
    },
  ];
}
