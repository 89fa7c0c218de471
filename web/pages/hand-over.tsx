/** A run handed over: paper, picture, one file to keep, tables. A row for each, with what it is good for and what to press. */
import type { ComponentChildren } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { Button } from '../controls/button.tsx';
import { PageHead } from '../controls/page-head.tsx';
import { pngOf, save } from '../files.ts';
import {
  fetchPicture,
  pageAt,
  pictureAt,
  printSheet,
  type Separator,
  sheetAt,
  spreadsheetAt,
  tableAt,
  traceAt,
  usualSeparator,
} from '../handed-over.ts';
import { fetchRun } from '../fetched.ts';
import type { OpenedRun } from '../fetched.ts';
import type { Answer } from '../post.ts';
import { HAND_OVER } from '../words/handover.ts';
import { PAST } from '../words/past.ts';
import '../style/handover.css';

export function HandOverPage({ about: run }: { readonly about: string }) {
  const [answer, setAnswer] = useState<Answer<OpenedRun> | null>(null);
  useEffect(() => void fetchRun(run).then(setAnswer), [run]);
  const said = saidOf(answer);
  return (
    <main class="runs hand-over" aria-busy={answer === null}>
      <PageHead {...said} />
      {answer?.ok === true && <Ways run={run} />}
      <footer class="controls">
        <a class="button button-plain" href={`#/runs/${encodeURIComponent(run)}`}>
          <span class="button-word">{HAND_OVER.back}</span>
        </a>
      </footer>
    </main>
  );
}

function saidOf(answer: Answer<OpenedRun> | null): { readonly act: string; readonly detail: string } {
  if (answer === null) return { act: HAND_OVER.title, detail: HAND_OVER.fetching };
  if (!answer.ok) return { act: PAST.notHere, detail: answer.why };
  const { profile, startedAtWall } = answer.value.info;
  return { act: HAND_OVER.title, detail: HAND_OVER.detail(profile.title, startedAtWall) };
}

function Ways({ run }: { readonly run: string }) {
  return (
    <div class="ways">
      <SheetWay run={run} />
      <PictureWay run={run} />
      <Way name={HAND_OVER.page} is={HAND_OVER.pageIs}>
        <FileLink href={pageAt(run)}>{HAND_OVER.savePage}</FileLink>
      </Way>
      <SpreadsheetWay run={run} />
      <Way name={HAND_OVER.programs} is={HAND_OVER.programsAre}>
        <FileLink href={traceAt(run)}>{HAND_OVER.saveRun}</FileLink>
        <FileLink href={tableAt(run)}>{HAND_OVER.saveCurve}</FileLink>
      </Way>
    </div>
  );
}

function Way(props: { readonly name: string; readonly is: string; readonly children: ComponentChildren }) {
  return (
    <section class="way">
      <div>
        <h2>{props.name}</h2>
        <p>{props.is}</p>
      </div>
      <div class="way-buttons">{props.children}</div>
    </section>
  );
}

interface FileLinkProps {
  readonly href: string;
  readonly children: ComponentChildren;
  /** Opened beside the page instead of saved. */
  readonly isLookedAt?: boolean;
}

function FileLink({ href, children, isLookedAt = false }: FileLinkProps) {
  const how = isLookedAt ? { target: '_blank', rel: 'noopener' } : { download: '' };
  return (
    <a class="button button-plain" href={href} {...how}>
      <span class="button-word">{children}</span>
    </a>
  );
}

function SheetWay({ run }: { readonly run: string }) {
  const [isBlocked, setBlocked] = useState(false);
  const print = (paper: 'a4' | 'letter'): void => setBlocked(!printSheet(run, paper));
  return (
    <Way name={HAND_OVER.sheet} is={HAND_OVER.sheetIs}>
      <Button onPress={() => print('a4')} look="solid">
        {HAND_OVER.printA4}
      </Button>
      <Button onPress={() => print('letter')}>{HAND_OVER.printLetter}</Button>
      <FileLink href={sheetAt(run, 'a4')} isLookedAt>
        {HAND_OVER.look}
      </FileLink>
      {isBlocked && <p role="alert">{HAND_OVER.blocked}</p>}
    </Way>
  );
}

function PictureWay({ run }: { readonly run: string }) {
  const [trouble, setTrouble] = useState<string | null>(null);
  const savePoints = async (): Promise<void> => {
    const picture = await fetchPicture(run);
    const points = picture.ok ? await pngOf(picture.value) : null;
    if (points !== null) save(points, `${run}.png`);
    setTrouble(picture.ok ? (points === null ? HAND_OVER.noPng : null) : picture.why);
  };
  return (
    <Way name={HAND_OVER.picture} is={HAND_OVER.pictureIs}>
      <Button onPress={() => void savePoints()}>{HAND_OVER.png}</Button>
      <FileLink href={pictureAt(run)}>{HAND_OVER.svg}</FileLink>
      {trouble !== null && <p role="alert">{trouble}</p>}
    </Way>
  );
}

const SEPARATORS = Object.keys(HAND_OVER.separators) as Separator[];

function SpreadsheetWay({ run }: { readonly run: string }) {
  const [separator, setSeparator] = useState<Separator>(usualSeparator());
  return (
    <Way name={HAND_OVER.spreadsheet} is={HAND_OVER.spreadsheetIs}>
      <label class="way-choice">
        {HAND_OVER.separated}
        <select value={separator} onChange={(event) => setSeparator(event.currentTarget.value as Separator)}>
          {SEPARATORS.map((each) => (
            <option key={each} value={each}>
              {HAND_OVER.separators[each]}
            </option>
          ))}
        </select>
      </label>
      <FileLink href={spreadsheetAt(run, separator)}>{HAND_OVER.saveTable}</FileLink>
    </Way>
  );
}
