/** One stored run: the whole of it told and drawn, its log to read, and playback with a head that goes over it. */
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { Account } from '../../server/core/show/account.ts';
import type { View } from '../../server/core/show/view.ts';
import type { NoteInfo } from '../../server/core/show/wire.ts';
import { AskAgainStrip } from '../controls/ask-again.tsx';
import { BestPart } from '../controls/best-part.tsx';
import { BinnedStrip, BinPart } from '../controls/bin-part.tsx';
import { Button } from '../controls/button.tsx';
import { SIGN } from '../controls/icons.tsx';
import { CardPart } from '../controls/card.tsx';
import { Headline } from '../controls/headline.tsx';
import { RoadView } from '../controls/road-view.tsx';
import { SeenStrips } from '../controls/run-strips.tsx';
import { roadMarks } from '../moment.ts';
import type { NoteChange } from '../noted.ts';
import { linesOf, momentsOf } from '../past-lines.ts';
import * as playing from '../playback.ts';
import type { Playback } from '../playback.ts';
import { fetchRun } from '../fetched.ts';
import type { OpenedRun } from '../fetched.ts';
import type { Mark as RoadMark } from '../road/model.ts';
import { stretches } from '../road/panels.ts';
import { ALL, FOLLOW } from '../road-look.ts';
import type { RoadLook } from '../road-look.ts';
import { accountOfRun } from '../run-account.ts';
import { broughtIn } from '../run-words.ts';
import { onRunChanged } from '../run-changed.ts';
import { StoredCurve } from '../stored-curve.ts';
import { useEnvelope } from '../use-envelope.ts';
import { useAsked } from '../use-asked.ts';
import { BIN, RUNS } from '../words/library.ts';
import { lookBack } from '../words/log.ts';
import { clock } from '../words/measure.ts';
import { PAST } from '../words/past.ts';
import { PLAYBACK } from '../words/playback.ts';
import { sentence } from '../words/sentence.ts';
import type { Moment, Sentence } from '../words/sentence.ts';
import { Afterwards } from './past/afterwards.tsx';
import { HeadNumber } from './past/head-number.tsx';
import { LogTable } from './past/log-table.tsx';
import { NotesOf } from './past/notes.tsx';
import { PaceButtons, PlaybackControls, PlaybackKeys } from './past/playback-controls.tsx';
import { usePlayback } from './past/use-playback.ts';
import { ELSEWHERE } from '../words/elsewhere.ts';
import { day } from '../words/day.ts';

export { SettingBar } from '../controls/setting-part.tsx';

export function PastRunPage({ about: run }: { readonly about: string }) {
  const { value, trouble, ask } = useAsked(run, () => fetchRun(run));
  // On their way to the disk: what is fetched may not have them yet.
  const [added, setAdded] = useState<readonly NoteInfo[]>([]);
  const fetchAgain = (): void => void ask();
  useEffect(() => onRunChanged(run, fetchAgain), [run]);
  const opened = useMemo(() => (value === null ? null : withNotes(value, added)), [value, added]);
  if (opened !== null) {
    return (
      <OpenedRunPage
        run={opened}
        trouble={trouble}
        onNoted={(note) => setAdded((notes) => [...notes, note])}
        onChanged={fetchAgain}
      />
    );
  }
  return (
    <main class="past" aria-busy={trouble === null}>
      <header class="headline">
        <div class="headline-words">
          <h1 class="act step-full">{trouble === null ? PAST.fetching : PAST.notHere}</h1>
          <p class="detail step-full">{trouble ?? ''}</p>
        </div>
      </header>
      <footer class="controls">
        <a class="button button-solid" href="#/runs">
          <span class="button-word">{ELSEWHERE.runs}</span>
        </a>
      </footer>
    </main>
  );
}

function withNotes(run: OpenedRun, added: readonly NoteInfo[]): OpenedRun {
  const known = new Set(run.notes.map(({ id }) => id));
  return { ...run, notes: [...run.notes, ...added.filter(({ id }) => !known.has(id))] };
}

interface OpenedRunProps {
  readonly run: OpenedRun;
  /** Why it may be otherwise by now: it could not be fetched again. */
  readonly trouble: string | null;
  readonly onNoted: (note: NoteInfo) => void;
  /** Something of the run was changed that has to be fetched. */
  readonly onChanged: () => void;
}

function OpenedRunPage({ run, trouble, onNoted, onChanged }: OpenedRunProps) {
  const { info } = run;
  const [look, setLook] = useState<RoadLook>(ALL);
  const curve = useMemo(() => new StoredCurve(run), [run.tiles]);
  const lines = useMemo(() => linesOf(run), [run]);
  const moments = useMemo(() => momentsOf(lines), [lines]);
  const whole = useMemo(() => playing.viewAt(run, Infinity), [run]);
  const account = useMemo(() => accountOfRun(run, whole), [run, whole]);
  const [spanFromMs, setSpanFrom] = useState<number | null>(null);
  const [noting, setNoting] = useState<Pick<NoteChange, 'atMs' | 'untilMs'> | null>(null);
  const [playback, change] = usePlayback(run, moments, () => noteHere());
  useReadings(curve, playback);
  const { startMs, endMs } = playback;
  const stays = useMemo(
    () => stretches({ profile: info.profile, phases: whole.visits, startedAtMs: startMs, nowMs: endMs }),
    [whole, startMs, endMs],
  );
  const envelope = useEnvelope(info);
  const isAtEnd = playback.headMs >= playback.endMs;
  const foldMs = isAtEnd ? Infinity : playback.headMs;
  const view = useMemo(() => playing.viewAt(run, foldMs), [run, playing.foldedAt(run, foldMs)]);
  const moment = playing.momentAt(curve.rowsUpTo(playback.headMs), view, playback.headMs);
  const clockOf = (atMs: number): string => clock(info.startedAtWall, info.startedAtMs, atMs);
  const moveTo = (atMs: number): void => change((now) => playing.moveTo(now, atMs));
  const top = useRef<HTMLDivElement>(null);
  /** From words far below the curve. */
  const showOnCurve = (atMs: number): void => {
    moveTo(atMs);
    top.current?.scrollIntoView({ block: 'start' });
  };
  const isWhole = look.kind === 'all';
  const noteHere = (): void => {
    const atMs = Math.round(playback.headMs);
    const [from, until] = [Math.min(spanFromMs ?? atMs, atMs), Math.max(spanFromMs ?? atMs, atMs)];
    change(playing.stop);
    setNoting(spanFromMs === null ? { atMs } : { atMs: from, untilMs: until });
  };
  const doneNoting = (): void => {
    setNoting(null);
    setSpanFrom(null);
  };
  /* While the head goes along ten times a second, none of what stands below the curve is looked through for changes. */
  const heading = info.profile.phases.find(({ id }) => id === view.phase)?.heading ?? 'up';
  const atId = lines.findLast((line) => line.atMs <= playback.headMs)?.id;
  const afterwards = useMemo(
    () => (
      <>
        <Afterwards run={run} view={whole} account={account} onMoment={showOnCurve} />
        <CardPart run={info.run} />
      </>
    ),
    [run, whole],
  );
  const notes = useMemo(
    () => (
      <NotesOf
        run={run}
        view={whole}
        within={{ earliestMs: startMs, latestMs: endMs }}
        clockOf={clockOf}
        at={noting}
        heading={heading}
        onDone={doneNoting}
        onNoted={onNoted}
      />
    ),
    [run, whole, startMs, endMs, noting, heading],
  );
  const log = useMemo(
    () => <LogTable info={info} startMs={startMs} lines={lines} atId={atId} onMoment={showOnCurve} />,
    [info, startMs, lines, atId],
  );
  return (
    <main class="past">
      <div class="ribbon ribbon-striped">
        <span>{PLAYBACK.ribbon(playback.speed, playback.isPlaying)}</span>
        <span class="on-wide">
          {info.profile.title}. {[day(info.startedAtWall), ...broughtIn(run, new Date())].join(', ')}
          {info.simulated ? RUNS.simulated : ''}
        </span>
      </div>
      {trouble !== null && <AskAgainStrip why={trouble} onAgain={onChanged} />}
      {run.binnedAtWall !== null && (
        <BinnedStrip run={info.run} words={BIN.lies(day(run.binnedAtWall))} onTaken={onChanged} />
      )}
      <SeenStrips view={view} moment={moment} />
      <div class="top" ref={top}>
        <Headline said={saidAt(view, moment, run, isAtEnd ? account : null)} />
        <HeadNumber run={run} moment={moment} view={view} />
      </div>
      <RoadView
        onMoment={moveTo}
        model={{
          profile: info.profile,
          phases: isWhole ? whole.visits : view.visits,
          curve: curve.curve,
          startedAtMs: playback.startMs,
          nowMs: playback.headMs,
          endedAtMs: playback.endMs,
          live: 'playback',
          estimate: moment.estimate,
          fan: [],
          marks: [...roadMarks(isWhole ? whole.marks : view.marks), ...begunSpan(spanFromMs, playback.headMs)],
          window: look,
          alarm: false,
          envelope,
        }}
      />
      <PlaybackControls playback={playback} moments={moments} stays={stays} clockOf={clockOf} onChange={change} />
      <div class="past-more">
        <PaceButtons playback={playback} onChange={change} />
        <Button onPress={noteHere} sign={SIGN.note}>
          {spanFromMs === null ? PLAYBACK.noteHere : PLAYBACK.noteToHere}
        </Button>
        <Button onPress={() => setSpanFrom(spanFromMs === null ? Math.round(playback.headMs) : null)}>
          {spanFromMs === null ? PLAYBACK.spanFrom : PLAYBACK.spanStarted(clockOf(spanFromMs))}
        </Button>
        <Button onPress={() => setLook(isWhole ? FOLLOW : ALL)}>
          {isWhole ? PLAYBACK.asItWent : PLAYBACK.wholeRun}
        </Button>
        <a class="button button-plain" href={`#/hand-over/${encodeURIComponent(info.run)}`}>
          <span class="button-word">{ELSEWHERE.handOver}</span>
        </a>
        {run.endedAtMs !== null && (
          <a class="button button-plain" href={`#/judged/${encodeURIComponent(info.run)}`}>
            <span class="button-word">{PLAYBACK.judgeAgain}</span>
          </a>
        )}
        <a class="button button-plain" href="#/runs">
          <span class="button-word">{ELSEWHERE.runs}</span>
        </a>
      </div>
      <div class="past-more past-best">
        <BestPart info={info} />
      </div>
      {afterwards}
      {notes}
      {log}
      {run.binnedAtWall === null && <BinPart run={info.run} isGoing={run.endedAtMs === null} onBinned={onChanged} />}
      <PlaybackKeys />
    </main>
  );
}

/** At the end the whole run is summed up by its account; before it, what the page said then. Nothing covers the page: this is not happening now. */
function saidAt(view: View, moment: Moment, run: OpenedRun, whole: Account | null): Sentence {
  const then = sentence(view, moment, run.info.profile);
  const said = whole === null ? then : lookBack(view, whole);
  return { ...then, act: said.act, detail: said.detail, area: 'words', arm: null, leftS: null };
}

/** A span of which only the beginning has been said yet reaches to the head. */
function begunSpan(fromMs: number | null, headMs: number): readonly RoadMark[] {
  if (fromMs === null) return [];
  const [atMs, untilMs] = [Math.min(fromMs, headMs), Math.max(fromMs, headMs)];
  return [{ kind: 'cue', atMs, untilMs, text: '' }];
}

/** Every reading is wanted for so much of the viewer's time to come, ms, and asked for this often along the run, ms (ours). */
const AHEAD_MS = 5_000;
const WANT_EVERY_MS = 10_000;

/** Draws again when readings around the head have come. */
function useReadings(curve: StoredCurve, { headMs, speed, isPlaying }: Playback): void {
  const [, redraw] = useState(0);
  useEffect(() => {
    void curve.want(headMs, isPlaying ? speed * AHEAD_MS : 0).then((came) => came && redraw((n) => n + 1));
  }, [curve, Math.floor(headMs / WANT_EVERY_MS), isPlaying]);
}
