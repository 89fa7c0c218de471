/** The place of the road on the page: fetches it, gives it a host and its newest model. When and how it is drawn is the road's own affair. */
import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import { askUntilHere, fetchRoad, fetchRoadSummary, fetchOtherViews, MissingPart } from '../part.tsx';
import type { Road } from '../road/road.ts';
import type { OtherViews, RoadModel } from '../road/model.ts';

export interface RoadViewProps {
  readonly model: RoadModel;
  /** A tap on the map, as the moment it points at. Absent: taps do nothing. */
  readonly onMoment?: (atMs: number) => void;
  /** A tap on a folded phase, as the stretch it is. Absent: it is a tap on its first moment. */
  readonly onFold?: (fromMs: number, toMs: number) => void;
}

export function RoadView({ model, onMoment, onFold }: RoadViewProps) {
  const host = useRef<HTMLDivElement>(null);
  const road = useRef<Road | null>(null);
  /** null: could not be had so far. */
  const [otherViews, setOtherViews] = useState<OtherViews | null | undefined>(undefined);
  const [isMissing, setMissing] = useState(false);
  const isOther = model.window.kind !== 'follow' || model.live === 'playback';
  const isWaiting = isOther && otherViews === undefined;
  /** null: what shows it is still to come; what was drawn before stays. */
  const newest = useRef<RoadModel | null>(null);
  newest.current = isWaiting ? null : { ...model, otherViews };
  const draw = (): void => {
    if (newest.current !== null) road.current?.draw(newest.current);
  };

  // Given up with its host: what is given up a frame later, as others are, could still draw on a host that is gone.
  useLayoutEffect(() => {
    const stop = askUntilHere(
      fetchRoad,
      ({ createRoad }) => {
        road.current = createRoad(host.current!);
        setMissing(false);
        draw();
        // Without it the road is seen all the same, and its table says the numbers.
        void fetchRoadSummary().then(
          ({ roadSummary }) => road.current?.tell(roadSummary),
          () => undefined,
        );
      },
      () => setMissing(true),
    );
    return () => {
      stop();
      road.current?.destroy();
      road.current = null;
    };
  }, []);
  // Before anybody looks elsewhere: a tap is not to wait for it.
  useEffect(
    () =>
      askUntilHere(
        fetchOtherViews,
        (part) => setOtherViews(part.otherViews()),
        () => setOtherViews(null),
      ),
    [],
  );
  useEffect(draw);

  const tap = (event: MouseEvent): void => {
    const box = host.current?.getBoundingClientRect();
    if (box === undefined || road.current === null || onMoment === undefined) return;
    const spot = road.current.spotAt(event.clientX - box.left, event.clientY - box.top);
    if (spot.kind === 'time') onMoment(spot.atMs);
    if (spot.kind === 'fold') (onFold ?? onMoment)(spot.fromMs, spot.toMs);
  };
  return (
    <div class="road" ref={host} aria-busy={isWaiting} onClick={onMoment === undefined ? undefined : tap}>
      {(isMissing || (isOther && otherViews === null)) && <MissingPart />}
    </div>
  );
}
