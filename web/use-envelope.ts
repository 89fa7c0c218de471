/** The envelope of a run's best forerunners, where this viewer wants to see it. */
import { useEffect, useState } from 'preact/hooks';
import type { RunInfo } from '../server/core/show/wire.ts';
import type { DrawnEnvelope } from './road/model.ts';
import { viewer } from './viewer.ts';

/** Asked for when the run is shown and when it is turned on; undefined until it is here, and where there is none. */
export function useEnvelope(info: RunInfo): DrawnEnvelope | undefined {
  const [envelope, setEnvelope] = useState<DrawnEnvelope | null>(null);
  const isWanted = viewer().seesBest === true;
  useEffect(() => {
    let isShown = isWanted;
    setEnvelope(null);
    if (isWanted)
      void import('./envelope.ts')
        .then((part) => part.fetchEnvelope(info))
        .then((fetched) => isShown && setEnvelope(fetched))
        // Without it the road is what it always is, and More says why.
        .catch(() => undefined);
    return () => {
      isShown = false;
    };
  }, [isWanted, info.run]);
  return envelope ?? undefined;
}
