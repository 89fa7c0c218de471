/** The page's beginning: one line to the bowl, one voice, and the page that the address names. */
import { render } from 'preact';
import { useLayoutEffect, useState } from 'preact/hooks';
import './style/palette.css';
import './style/base.css';
import './style/run.css';
import './style/number.css';
import './style/strips.css';
import './style/upright.css';
import './style/hands.css';
import './style/screens.css';
import './style/before.css';
import './style/alarm.css';
import './style/start.css';
import './style/sheets.css';
import './style/runs.css';
import './style/plain.css';
import './style/profiles.css';
import './style/kept.css';
import './style/other-screens.css';
import './style/thermometer.css';
import './style/bowls.css';
import './style/check.css';
import './style/past.css';
import './style/low.css';
import type { LiveState } from './live.ts';
import { Lives } from './lives.ts';
import { carefulOf } from './moment.ts';
import { BowlPage } from './pages/bowl.tsx';
import { besidePart, fetchAtHand, fetchRoad, laterPart } from './part.tsx';
import { placeOf } from './places.tsx';
import type { Place } from './places.tsx';
import { Sound } from './sound.ts';
import { Beneath } from './controls/beneath.tsx';
import { SoundBar } from './controls/sound-bar.tsx';
import { isHeard } from './sound/audible.ts';
import { speaker } from './sound/speaker.ts';
import { useLive } from './use-live.ts';
import { keepFiguresWhole } from './unbroken.ts';
import { askForTroubleWords } from './trouble.ts';
import { onViewer, startViewer } from './viewer.ts';
import { areaOf } from './words/alarm.ts';
import { language } from './words/language.ts';

const fetchOthers = () => import('./controls/other-bowls.tsx');
const OtherBowls = laterPart(() => fetchOthers().then((part) => part.OtherBowls));
const OtherVoices = besidePart(() => fetchOthers().then((part) => part.OtherVoices));

function App({ lives, sound }: { readonly lives: Lives; readonly sound: Sound }) {
  const [place, setPlace] = useState(placeOf(location.hash));
  useLayoutEffect(() => {
    const move = (): void => setPlace(placeOf(location.hash));
    window.addEventListener('hashchange', move);
    return () => window.removeEventListener('hashchange', move);
  }, []);
  useArrival(place);
  const [, redraw] = useState(0);
  const again = (): void => redraw((n) => n + 1);
  useLayoutEffect(() => askForTroubleWords(again), []);
  useLayoutEffect(() => onViewer(again), []);
  useLayoutEffect(() => lives.subscribe(again), []);
  const { Page, about } = place;
  useLayoutEffect(() => {
    if (Page === null && about !== '') lives.go(about);
  }, [place]);
  const live = lives.here;
  const state = useLive(live);
  const isCalled = callsForEyes(state);
  const others = state.bowls.length > 1 && <OtherBowls lives={lives} />;
  return (
    <>
      {others !== false && <OtherVoices lives={lives} sound={sound} />}
      {Page !== null && !isCalled && others}
      {(Page === null || isCalled) && <BowlPage key={state.bowl} live={live} sound={sound} others={others} />}
      {Page !== null && (
        <Beneath isCovered={isCalled}>
          <Page key={about} about={about} bowl={state.bowl} />
        </Beneath>
      )}
      {Page !== null && !isCalled && isGoing(state) && <SoundBar />}
    </>
  );
}

/** Another page begins at its top and at its sentence; the first one is where the browser puts it. */
function useArrival(place: Place): void {
  const [first] = useState(place);
  useLayoutEffect(() => {
    const isNew = place !== first;
    if (isNew) window.scrollTo(0, 0);
    // Where it can't be had nothing is amiss but that.
    void fetchAtHand().then(
      (part) => part.arrive(place.word, isNew),
      () => undefined,
    );
  }, [place]);
}

/** An alarm could come from it at any moment. */
function isGoing({ view }: LiveState): boolean {
  return view.info !== null && view.ended === null;
}

/**
 * Whoever is looking at yesterday's run is called back by an alarm nobody has seen, or by chocolate nobody has named getting too hot. After
 * a run its own chocolate may still be so hot: that leaves whoever looks back at it in peace.
 */
function callsForEyes(state: LiveState): boolean {
  if (carefulOf(state) !== null && state.view.info === null) return true;
  return state.view.alarms.some((alarm) => !alarm.acknowledged && areaOf(alarm) !== 'words');
}

startViewer();
document.documentElement.lang = language;
const lives = new Lives(placeOf(location.hash).about);
void speaker.fetch();
speaker.subscribe(() => lives.tellAudible(isHeard(speaker.state)));
keepFiguresWhole();
render(<App lives={lives} sound={new Sound()} />, document.getElementById('page')!);
// It comes while the bowl is asked for; where it doesn't come, its place on the page says so.
void fetchRoad().catch(() => undefined);
