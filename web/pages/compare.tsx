/** Two to six runs laid over one another: their curves on one chart, how each differs from the first, and their figures. */
import { useEffect, useState } from 'preact/hooks';
import { fetchCard } from '../cards.ts';
import { alignablePhases, layOver, originOf, runsIn } from '../compare.ts';
import type { Aligned, Laid } from '../compare.ts';
import { keysOf, namesOf } from '../compare-names.ts';
import { Button } from '../controls/button.tsx';
import { LaidOver, LineSample } from '../controls/laid-over.tsx';
import { PageHead } from '../controls/page-head.tsx';
import { fetchRun } from '../fetched.ts';
import { LAID_LEAST } from '../run-list.ts';
import { COMPARE, differenceWords, figureRows } from '../words/compare.ts';
import { phaseName } from '../words/names.ts';
import '../style/compare.css';
import { ELSEWHERE } from '../words/elsewhere.ts';

/** `missing`: how many of those named could not be had. */
interface Fetched {
  readonly laid: readonly Laid[];
  readonly missing: number;
}

export function ComparePage({ about }: { readonly about: string }) {
  const [fetched, setFetched] = useState<Fetched | null>(null);
  const [aligned, setAligned] = useState<Aligned>({ at: 'start' });
  useEffect(() => {
    let isShown = true;
    void fetchAll(runsIn(about)).then((all) => isShown && setFetched(all));
    return () => {
      isShown = false;
    };
  }, [about]);
  const laid = fetched?.laid ?? [];
  const isEnough = laid.length >= LAID_LEAST;
  return (
    <main class="runs compare" aria-busy={fetched === null}>
      <PageHead act={actOf(fetched)} detail={detailOf(fetched, aligned)} />
      {isEnough && (
        <>
          <AlignButtons laid={laid} aligned={aligned} onAlign={setAligned} />
          <LaidOver laid={laid} aligned={aligned} label={COMPARE.chart(namedIn(laid), alignWords(aligned))} />
          <LeftOut laid={laid} aligned={aligned} />
          <Keys laid={laid} />
          <Differences laid={laid} />
          <Figures laid={laid} />
        </>
      )}
      <footer class="controls">
        <a class="button button-solid" href="#/runs">
          <span class="button-word">{ELSEWHERE.runs}</span>
        </a>
      </footer>
    </main>
  );
}

async function fetchAll(runs: readonly string[]): Promise<Fetched> {
  const answers = await Promise.all(runs.map((run) => Promise.all([fetchRun(run), fetchCard(run)])));
  const opened = answers.flatMap(([run, card]) =>
    run.ok ? [{ run: run.value, card: card.ok ? card.value.card : null }] : [],
  );
  return { laid: layOver(opened), missing: runs.length - opened.length };
}

function actOf(fetched: Fetched | null): string {
  if (fetched === null) return COMPARE.coming;
  return fetched.laid.length < LAID_LEAST ? COMPARE.tooFew : COMPARE.act(fetched.laid.length);
}

function detailOf(fetched: Fetched | null, aligned: Aligned): string {
  if (fetched === null) return '';
  if (fetched.missing > 0) return COMPARE.notHere(fetched.missing);
  return fetched.laid.length < LAID_LEAST ? COMPARE.choose : alignWords(aligned);
}

function alignWords(aligned: Aligned): string {
  return aligned.at === 'start' ? COMPARE.atStart : COMPARE.atPhase(phaseName(aligned.phase));
}

interface AlignProps {
  readonly laid: readonly Laid[];
  readonly aligned: Aligned;
  readonly onAlign: (aligned: Aligned) => void;
}

function AlignButtons({ laid, aligned, onAlign }: AlignProps) {
  return (
    <div class="compare-align" role="group" aria-label={COMPARE.align}>
      <Button onPress={() => onAlign({ at: 'start' })} class="button-low" pressed={aligned.at === 'start'}>
        {COMPARE.start}
      </Button>
      {alignablePhases(laid).map((phase) => (
        <Button
          key={phase}
          onPress={() => onAlign({ at: 'phase', phase })}
          class="button-low"
          pressed={aligned.at === 'phase' && aligned.phase === phase}
        >
          {phaseName(phase)}
        </Button>
      ))}
    </div>
  );
}

/** Those that can't be drawn as the others are. */
function LeftOut({ laid, aligned }: Omit<AlignProps, 'onAlign'>) {
  const without = laid.filter((each) => originOf(each, aligned) === null).map(({ letter }) => letter);
  if (aligned.at === 'start' || without.length === 0) return null;
  return <p class="compare-part">{COMPARE.without(without.join(', '), phaseName(aligned.phase))}</p>;
}

function Keys({ laid }: { readonly laid: readonly Laid[] }) {
  const keys = keysOf(laid, new Date());
  return (
    <ul class="compare-part compare-keys">
      {laid.map((each, i) => (
        <li key={each.letter}>
          <b>{each.letter}</b>
          <LineSample letter={each.letter} />
          <a href={`#/runs/${encodeURIComponent(each.run.info.run)}`}>{keys[i]}</a>
        </li>
      ))}
    </ul>
  );
}

function Differences({ laid }: { readonly laid: readonly Laid[] }) {
  const [first, ...others] = laid;
  if (first === undefined) return null;
  return (
    <section class="compare-part" aria-labelledby="differences">
      <h2 id="differences">{COMPARE.differences(first.letter)}</h2>
      <ul class="compare-differences">
        {others.map((other) => (
          <li key={other.letter}>{differenceWords(first, other)}</li>
        ))}
      </ul>
    </section>
  );
}

function Figures({ laid }: { readonly laid: readonly Laid[] }) {
  const names = namesOf(laid, new Date());
  return (
    <section class="compare-part">
      <div class="table-frame" tabIndex={0} role="region" aria-label={COMPARE.table}>
        <table>
          <caption>{COMPARE.table}</caption>
          <thead>
            <tr>
              <th scope="col">{COMPARE.figure}</th>
              {laid.map((each, i) => (
                <th key={each.letter} scope="col">
                  <abbr title={names[i]}>{each.letter}</abbr>
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {figureRows(laid).map(({ title, cells }) => (
              <tr key={title}>
                <th scope="row">{title}</th>
                {cells.map((cell, i) => (
                  <td key={laid[i]!.letter}>{cell}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}

function namedIn(laid: readonly Laid[]): string {
  const names = namesOf(laid, new Date());
  return laid.map(({ letter }, i) => COMPARE.named(letter, names[i]!)).join(', ');
}
