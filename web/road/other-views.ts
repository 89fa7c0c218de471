/** All views of the road but the one that follows a run: fetched apart from it, which shows the present phase without them. */
import { heldSheet } from './held.ts';
import type { OtherViews } from './model.ts';
import { unfoldedPicture } from './unfolded-picture.ts';
import { unfold } from './unfolding.ts';

/** For one road. */
export function otherViews(): OtherViews {
  const views: OtherViews = {
    layOut: (model, size, metrics, slideMs) => {
      const { window } = model;
      if (window.kind === 'all') return unfold(model, size, metrics, views);
      return heldSheet(model, window, size, metrics, slideMs);
    },
    picture: unfoldedPicture(),
  };
  return views;
}
