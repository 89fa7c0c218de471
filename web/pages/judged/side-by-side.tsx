/** The first log and a second one beside each other: one sentence, the differences in words, both curves, and what each says. */
import { useMemo } from 'preact/hooks';
import { Headline } from '../../controls/headline.tsx';
import { TwoCurves } from '../../controls/two-curves.tsx';
import type { JudgedRun, SecondLog } from '../../judgements.ts';
import { openPlayback } from '../../playback.ts';
import { furthestApart, sideOf } from '../../side-by-side.ts';
import { bandsInOrder } from '../../words/bands.ts';
import { clock } from '../../words/measure.ts';
import { comparedRows, comparedSentence, differences, JUDGED, whyNotTheSame } from '../../words/side-by-side.ts';
import type { ComparedRow } from '../../words/side-by-side.ts';

export interface SideBySideProps {
  readonly run: JudgedRun;
  readonly log: SecondLog;
}

export function SideBySide({ run, log }: SideBySideProps) {
  const { judgement, events, tiles } = log;
  const { info, header } = run;
  const [first, second] = useMemo(() => {
    const { endMs } = openPlayback(run);
    const again = { ...info, profile: judgement.header.profile };
    return [
      sideOf({ info, engine: header.engine, events: run.events, tiles: run.tiles }, endMs),
      sideOf({ info: again, engine: judgement.header.engine, events, tiles }, endMs),
    ];
  }, [run, log]);
  const clockOf = (atMs: number): string => clock(info.startedAtWall, info.startedAtMs, atMs);
  const said = comparedSentence(first, second, judgement);
  const found = differences(first, second);
  const furthest = furthestApart(first.tiles, second.tiles);
  const work = judgement.header.profile.phases.findLast(({ heading }) => heading === 'hold');
  return (
    <>
      <Headline said={{ ...said, area: 'words', arm: null, leftS: null, later: [] }} />
      <section class="log">
        <h2>{JUDGED.curves}</h2>
        <TwoCurves
          first={first.tiles}
          second={second.tiles}
          bandC={work?.bandC ?? null}
          label={JUDGED.drawn(furthest?.byC ?? null)}
          clockOf={clockOf}
        />
        <p class="quiet">
          {JUDGED.solid} {JUDGED.dashed} {furthest !== null && JUDGED.furthest(furthest.byC, clockOf(furthest.atMs))}{' '}
          {work !== undefined && JUDGED.lane(judgement.header.profile.title, bandsInOrder([work], ''))}
        </p>
      </section>
      <section class="log">
        {whyNotTheSame(first, judgement).map((words) => (
          <p key={words}>{words}</p>
        ))}
        <h2>{JUDGED.apart}</h2>
        {found.length === 0 && <p>{JUDGED.noDifference}</p>}
        <ul>
          {found.map((words) => (
            <li key={words}>{words}</li>
          ))}
        </ul>
        <p class="quiet">{JUDGED.pressed}</p>
      </section>
      <ComparedTable rows={comparedRows(first, second)} />
    </>
  );
}

function ComparedTable({ rows }: { readonly rows: readonly ComparedRow[] }) {
  return (
    <section class="log">
      <table class="compared">
        <caption>{JUDGED.beside}</caption>
        <thead>
          <tr>
            <th scope="col">{JUDGED.what}</th>
            <th scope="col">{JUDGED.first}</th>
            <th scope="col">{JUDGED.second}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ name, first, second, differs }) => (
            <tr key={name} class={differs ? 'differs' : ''}>
              <th scope="row">{name}</th>
              <Lines lines={first} />
              <Lines lines={second} />
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function Lines({ lines }: { readonly lines: readonly string[] }) {
  return (
    <td>
      {lines.map((line, i) => (
        <span key={i}>{line}</span>
      ))}
    </td>
  );
}
