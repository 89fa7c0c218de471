/** One stored run: the whole of it told and drawn, its log to read, and playback with a head that goes over it. */
import { useEffect, useMemo, useState } from 'preact/hooks';
import type { View } from '../../server/core/show/view.ts';
import { Button } from '../controls/button.tsx';
import { Headline } from '../controls/headline.tsx';
import { BigNumber } from '../controls/number.tsx';
import { NotedList } from '../controls/noted-list.tsx';
import { RoadView } from '../controls/road-view.tsx';
import { StandingLine, StandingSheet } from '../controls/standing.tsx';
import { PlaybackRibbon } from '../controls/strips.tsx';
import { roadMarks } from '../moment.ts';
import { notedOf } from '../noted.ts';
import type { Noted } from '../noted.ts';
import * as playing from '../playback.ts';
import type { Playback } from '../playback.ts';
import { fetchRun, postNote } from '../post.ts';
import type { Answer, OpenedRun } from '../post.ts';
import { StoredCurve } from '../stored-curve.ts';
import { clock, day, elapsed, trend } from '../words/measure.ts';
import { logLine, lookBack } from '../words/log.ts';
import type { LogLine } from '../words/log.ts';
import { phaseName } from '../words/names.ts';
import { sentence } from '../words/sentence.ts';
import type { Moment, Sentence } from '../words/sentence.ts';
import { hasStanding, standingWords } from '../words/standing.ts';
import { playbackRibbon } from '../words/states.ts';
import { BUTTONS, HEADINGS } from '../words/buttons.ts';
import { PAST, RUNS } from '../words/page.ts';

/** The head moves this often, ms. */
const FRAME_MS = 100;
/** Every reading is wanted for so much of the viewer's time to come, ms, and asked for this often along the run, ms (ours). */
const AHEAD_MS = 5_000;
const WANT_EVERY_MS = 10_000;

export function PastRunPage({ about: run }: { readonly about: string }) {
  const [answer, setAnswer] = useState<Answer<OpenedRun> | null>(null);
  useEffect(() => void fetchRun(run).then(setAnswer), [run]);
  if (answer?.ok === true)
    return <OpenedRunPage run={answer.value} onChanged={() => void fetchRun(run).then(setAnswer)} />;
  return (
    <main class="past">
      <header class="headline">
        <div class="headline-words">
          <h1 class="act step-full">{answer === null ? PAST.fetching : PAST.notHere}</h1>
          <p class="detail step-full">{answer?.why ?? ''}</p>
        </div>
      </header>
      <footer class="controls">
        <a class="button button-solid" href="#/runs">
          <span class="button-word">{BUTTONS.runs}</span>
        </a>
      </footer>
    </main>
  );
}

function OpenedRunPage({ run, onChanged }: { readonly run: OpenedRun; readonly onChanged: () => void }) {
  const [playback, setPlayback] = useState(() => playing.openPlayback(run));
  const curve = useMemo(() => new StoredCurve(run), [run]);
  const [, redraw] = useState(0);
  useEffect(() => {
    const aheadMs = playback.isPlaying ? playback.speed * AHEAD_MS : 0;
    void curve.want(playback.headMs, aheadMs).then((came) => came && redraw((n) => n + 1));
  }, [curve, Math.floor(playback.headMs / WANT_EVERY_MS), playback.isPlaying]);
  const lines = useMemo(() => linesOf(run), [run]);
  const whole = useMemo(() => playing.viewAt(run, Infinity), [run]);
  usePacing(playback.isPlaying, setPlayback);
  const isAtEnd = playback.headMs >= playback.endMs;
  const view = playing.viewAt(run, isAtEnd ? Infinity : playback.headMs);
  const moment = playing.momentAt(curve.rowsUpTo(playback.headMs), view, playback.headMs);
  const moveTo = (atMs: number): void => setPlayback((now) => playing.moveTo(now, atMs));
  return (
    <main class="past">
      <PlaybackRibbon>
        <span>{playbackRibbon(playback.speed, playback.isPlaying)}</span>
        <span class="on-wide">
          {run.info.profile.title}. {day(run.info.startedAtWall)}
          {run.info.simulated ? RUNS.simulated : ''}
        </span>
      </PlaybackRibbon>
      <div class="top">
        <Headline said={saidAt(view, moment, run, isAtEnd)} />
        <HeadNumber run={run} moment={moment} view={view} />
      </div>
      <RoadView
        onMoment={moveTo}
        model={{
          profile: run.info.profile,
          phases: isAtEnd ? view.visits : whole.visits,
          curve: curve.curve,
          startedAtMs: playback.startMs,
          nowMs: playback.headMs,
          endedAtMs: playback.endMs,
          live: 'playback',
          estimate: moment.estimate,
          fan: [],
          marks: roadMarks(whole.marks),
          window: { kind: 'all' },
          alarm: false,
        }}
      />
      <PlaybackControls playback={playback} marks={whole.marks} onChange={setPlayback} />
      <LogTable run={run} lines={lines} headMs={playback.headMs} onMoment={moveTo} />
      <NotesOf run={run} view={whole} onChanged={onChanged} />
    </main>
  );
}

/** At the end the whole run is summed up; before it, what the page said then. Nothing covers the page: this is not happening now. */
function saidAt(view: View, moment: Moment, run: OpenedRun, isAtEnd: boolean): Sentence {
  const then = sentence(view, moment, run.info.profile);
  const said = isAtEnd ? lookBack(view) : then;
  return { ...then, act: said.act, detail: said.detail, area: 'words', arm: null, leftS: null };
}

function HeadNumber({ run, moment, view }: { readonly run: OpenedRun; readonly moment: Moment; readonly view: View }) {
  const { info } = run;
  const [isAsking, setAsking] = useState(false);
  const phase = view.phase === null ? '' : `, ${phaseName(view.phase).toLowerCase()}`;
  const going = moment.estimate === null ? '' : `, ${trend(moment.estimate.rateCPerMin).words}`;
  return (
    <div class="head-number">
      <BigNumber valueC={moment.reading?.valueC ?? null} isLive={!moment.stale && moment.probeOutSinceMs === null} />
      <p>
        {PAST.at(clock(info.startedAtWall, info.startedAtMs, moment.atMs))}
        {phase}
        {going}
      </p>
      {hasStanding(info.profile) && <StandingLine view={view} isKnown={!moment.stale} onAsk={() => setAsking(true)} />}
      {isAsking && (
        <StandingSheet
          view={view}
          isKnown={!moment.stale}
          words={standingWords(view, moment, info.profile, !moment.stale)}
          onClose={() => setAsking(false)}
        />
      )}
    </div>
  );
}

function PlaybackControls(props: {
  readonly playback: Playback;
  readonly marks: View['marks'];
  readonly onChange: (change: (now: Playback) => Playback) => void;
}) {
  const { playback, marks, onChange } = props;
  return (
    <div class="controls">
      <Button
        onPress={() => onChange(playback.isPlaying ? playing.stop : playing.play)}
        sign={playback.isPlaying ? 'stop' : 'play'}
        look="solid"
      >
        {playback.isPlaying ? PAST.stop : PAST.play}
      </Button>
      <Button onPress={() => onChange((now) => playing.moveTo(now, now.headMs - 60_000))}>{PAST.backOne}</Button>
      <Button onPress={() => onChange((now) => playing.nextMark(now, marks))} sign="mark" signAt="end">
        {BUTTONS.nextMark}
      </Button>
      <Button
        onPress={() => onChange((now) => playing.changeSpeed(now, -1))}
        sign="slower"
        class="far-side"
        disabled={playback.speed === playing.SPEEDS[0]}
      >
        {BUTTONS.slower}
      </Button>
      <p class="speed" aria-live="polite">
        {playback.speed}×
      </p>
      <Button
        onPress={() => onChange((now) => playing.changeSpeed(now, 1))}
        sign="faster"
        signAt="end"
        disabled={playback.speed === playing.SPEEDS.at(-1)}
      >
        {BUTTONS.faster}
      </Button>
      <a class="button button-plain" href="#/runs">
        <span class="button-word">{BUTTONS.runs}</span>
      </a>
    </div>
  );
}

function NotesOf(props: { readonly run: OpenedRun; readonly view: View; readonly onChanged: () => void }) {
  const { info, notes, events } = props.run;
  const [trouble, setTrouble] = useState<string | null>(null);
  const change = async ({ id, atMs }: Noted, text: string): Promise<void> => {
    const answer = await postNote(info.run, { atMs, text, replaces: id });
    setTrouble(answer.ok ? null : answer.why);
    if (answer.ok) props.onChanged();
  };
  return (
    <div class="log">
      {trouble !== null && <p role="alert">{trouble}</p>}
      <NotedList
        noted={notedOf(props.view.marks, notes, events)}
        clockOf={(atMs) => clock(info.startedAtWall, info.startedAtMs, atMs)}
        onChange={(noted, text) => void change(noted, text)}
      />
    </div>
  );
}

function LogTable(props: {
  readonly run: OpenedRun;
  readonly lines: readonly LogLine[];
  readonly headMs: number;
  readonly onMoment: (atMs: number) => void;
}) {
  const { info } = props.run;
  const now = props.lines.findLast((line) => line.atMs <= props.headMs);
  return (
    <section class="log">
      <table>
        <caption>{HEADINGS.happened}</caption>
        <thead>
          <tr>
            <th scope="col">{HEADINGS.clock}</th>
            <th scope="col">{HEADINGS.into}</th>
            <th scope="col">{HEADINGS.what}</th>
          </tr>
        </thead>
        <tbody>
          {props.lines.map((line) => (
            <tr key={line.id} class={`log-${line.weight}`} aria-current={line.id === now?.id ? 'time' : undefined}>
              <td>
                <button type="button" class="log-go" onClick={() => props.onMoment(line.atMs)}>
                  {clock(info.startedAtWall, info.startedAtMs, line.atMs)}
                </button>
              </td>
              <td>{elapsed(line.atMs - info.startedAtMs)}</td>
              <td class={line.voice === 'person' ? 'said-by-person' : ''}>{line.text}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function linesOf(run: OpenedRun): readonly LogLine[] {
  const { struck } = playing.viewAt(run, Infinity);
  const told = run.events.map(logLine).filter((line) => line !== null);
  const current = run.notes.filter(({ id, text }) => text !== '' && !struck.includes(`note-${id}`));
  const notes = current.map((note): LogLine => ({
    id: `note-${note.id}`,
    atMs: note.atMs,
    text: note.text,
    voice: 'person',
    weight: 'plain',
  }));
  return [...told.filter(({ id }) => !struck.includes(id)), ...notes].toSorted((a, b) => a.atMs - b.atMs);
}

function usePacing(isPlaying: boolean, change: (step: (now: Playback) => Playback) => void): void {
  useEffect(() => {
    if (!isPlaying) return undefined;
    let lastMs = performance.now();
    const timer = window.setInterval(() => {
      const nowMs = performance.now();
      const elapsedMs = nowMs - lastMs;
      lastMs = nowMs;
      change((now) => playing.advance(now, elapsedMs));
    }, FRAME_MS);
    return () => window.clearInterval(timer);
  }, [isPlaying, change]);
}
