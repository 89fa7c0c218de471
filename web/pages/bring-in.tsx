/** A file brought in, step by step: chosen, looked at, read as it was meant, taken. Nothing is kept before the last press. */
import { useRef, useState } from 'preact/hooks';
import { Button } from '../controls/button.tsx';
import { textOf } from '../files.ts';
import {
  FILE_MOST_BYTES,
  lookAt,
  type Preview,
  type RunPreview,
  takeIn,
  type TableChoice,
  type Unsaid,
} from '../incoming.ts';
import type { Answer } from '../post.ts';
import { useStepOfPage } from '../use-step.ts';
import { BRING_IN } from '../words/handover.ts';
import { TableQuestions } from './bring-in/table-questions.tsx';
import '../style/handover.css';
import { ELSEWHERE } from '../words/elsewhere.ts';

/** The file as it was chosen. */
export interface ChosenFile {
  readonly name: string;
  readonly text: string;
  /** When it was last written to, ms. */
  readonly writtenAtMs: number;
}

/** A file that is looked at. */
export interface FoundFile {
  readonly file: ChosenFile;
  readonly preview: Preview;
  /** As it is to be read; the preview may be of what was chosen before. null: as it was found. */
  readonly choice: TableChoice | null;
  /** What is on its way to Bowlside; of one file at a time. */
  readonly out: 'look' | 'take' | null;
  /** Why what was asked last could not be done. */
  readonly trouble: string | null;
  /** The preview is of another choice, for the last look came to nothing. */
  readonly isBehind: boolean;
}

type Step =
  | { readonly kind: 'choosing'; readonly trouble: string | null }
  | { readonly kind: 'reading' }
  | ({ readonly kind: 'asking' } & FoundFile)
  | { readonly kind: 'taken'; readonly run: string };

/** Where it stands, and what moves it on. Whatever fails, what was chosen and typed stays. */
function useBringIn() {
  const [step, setStep] = useState<Step>({ kind: 'choosing', trouble: null });
  const looks = useRef<{ newest: number; last: Promise<unknown> }>({ newest: 0, last: Promise.resolve() });
  const change = (part: Partial<FoundFile>): void =>
    setStep((now) => (now.kind === 'asking' ? { ...now, ...part } : now));
  /** One after another, as the server reads one file at a time; of those that wait only the newest is asked for. null: a newer one is. */
  const lookInTurn = async (text: string, choice: TableChoice | null): Promise<Answer<Preview> | null> => {
    const number = ++looks.current.newest;
    const isNewest = (): boolean => number === looks.current.newest;
    const turn = looks.current.last.then(() => (isNewest() ? lookAt(text, choice) : null));
    looks.current.last = turn;
    const answer = await turn;
    return isNewest() ? answer : null;
  };
  const choose = async (chosen: File): Promise<void> => {
    const isLarge = chosen.size > FILE_MOST_BYTES;
    if (isLarge && step.kind === 'asking') return change({ trouble: BRING_IN.tooLarge });
    if (isLarge) return setStep({ kind: 'choosing', trouble: BRING_IN.tooLarge });
    setStep({ kind: 'reading' });
    const text = await textOf(chosen).catch(() => null);
    if (text === null) return setStep({ kind: 'choosing', trouble: BRING_IN.notRead });
    const answer = await lookInTurn(text, null);
    if (answer === null) return;
    if (!answer.ok) return setStep({ kind: 'choosing', trouble: `${chosen.name}: ${answer.why}` });
    const file = { name: chosen.name, text, writtenAtMs: chosen.lastModified };
    const choice = answer.value.kind === 'table' ? answer.value.choice : null;
    setStep({ kind: 'asking', file, preview: answer.value, choice, out: null, trouble: null, isBehind: false });
  };
  const look = async ({ file }: FoundFile, choice: TableChoice | null): Promise<void> => {
    change({ choice, out: 'look', trouble: null });
    const answer = await lookInTurn(file.text, choice);
    if (answer === null) return;
    if (answer.ok) change({ preview: answer.value, out: null, isBehind: false });
    else change({ out: null, trouble: answer.why, isBehind: true });
  };
  const take = async ({ file, choice }: FoundFile, unsaid: Unsaid | null): Promise<void> => {
    change({ out: 'take', trouble: null });
    const answer = await takeIn(file.text, choice, unsaid);
    if (answer.ok) setStep({ kind: 'taken', run: answer.value.run });
    else change({ out: null, trouble: answer.why });
  };
  return { step, choose, look, take };
}

export function BringInPage() {
  const { step, choose, look, take } = useBringIn();
  const said = saidOf(step);
  useStepOfPage(step.kind);
  return (
    <main class="runs bring-in">
      <header class="headline">
        <div class="headline-words" role="status">
          <h1 class="act step-full">{said.act}</h1>
          <p class="detail step-full">{said.detail}</p>
        </div>
      </header>
      <form onSubmit={(event) => event.preventDefault()}>
        {(step.kind === 'choosing' || step.kind === 'asking') && (
          <FileChoice
            isAgain={step.kind === 'asking'}
            isDisabled={step.kind === 'asking' && step.out === 'take'}
            onChoose={(file) => void choose(file)}
          />
        )}
        {step.kind === 'asking' && step.trouble !== null && <p role="alert">{step.trouble}</p>}
        {step.kind === 'asking' && step.isBehind && (
          <p class="look-again">
            {BRING_IN.changed} <Button onPress={() => void look(step, step.choice)}>{BRING_IN.lookAgain}</Button>
          </p>
        )}
        {step.kind === 'asking' && step.preview.kind === 'run' && (
          <RunFound preview={step.preview} isDisabled={step.out !== null} onTake={() => void take(step, null)} />
        )}
        {step.kind === 'asking' && step.preview.kind === 'table' && (
          <TableQuestions
            found={step}
            preview={step.preview}
            onChoice={(choice) => void look(step, choice)}
            onTake={(unsaid) => void take(step, unsaid)}
          />
        )}
      </form>
      <footer class="controls">
        {step.kind === 'taken' && (
          <a class="button button-solid" href={`#/runs/${encodeURIComponent(step.run)}`}>
            <span class="button-word">{BRING_IN.open}</span>
          </a>
        )}
        <a class="button button-plain" href="#/runs">
          <span class="button-word">{ELSEWHERE.runs}</span>
        </a>
      </footer>
    </main>
  );
}

function saidOf(step: Step): { readonly act: string; readonly detail: string } {
  switch (step.kind) {
    case 'choosing':
      return step.trouble === null
        ? { act: BRING_IN.title, detail: BRING_IN.detail }
        : { act: BRING_IN.notTaken, detail: step.trouble };
    case 'reading':
      return { act: BRING_IN.title, detail: BRING_IN.reading };
    case 'asking':
      return { ...foundWords(step), ...(step.out === null ? {} : { detail: BRING_IN.out[step.out] }) };
    case 'taken':
      return { act: BRING_IN.done, detail: BRING_IN.doneDetail };
  }
}

function foundWords({ file, preview }: FoundFile): { readonly act: string; readonly detail: string } {
  if (preview.kind === 'table') {
    const act = preview.choice === null ? BRING_IN.isOurs : BRING_IN.isTable;
    const { trouble, readings, lastedS } = preview;
    return { act, detail: trouble === null ? BRING_IN.tableDetail(readings, lastedS) : `${file.name}: ${trouble}` };
  }
  if (preview.isHere) return { act: BRING_IN.isHere, detail: BRING_IN.nothingChanged };
  const act = preview.what === 'run' ? BRING_IN.isRun(preview.title) : BRING_IN.isTrace(preview.title);
  return { act, detail: BRING_IN.runDetail(preview.startedAtWall, preview.lastedS) };
}

interface FileChoiceProps {
  /** There is one already. */
  readonly isAgain: boolean;
  readonly isDisabled: boolean;
  readonly onChoose: (file: File) => void;
}

function FileChoice({ isAgain, isDisabled, onChoose }: FileChoiceProps) {
  return (
    <label class={`button choose-file ${isAgain ? 'button-plain' : 'button-solid'}`}>
      <span class="button-word">{isAgain ? BRING_IN.another : BRING_IN.choose}</span>
      <input
        type="file"
        class="only-spoken"
        disabled={isDisabled}
        accept=".jsonl,.csv,.tsv,.txt"
        onChange={(event) => {
          const [file] = event.currentTarget.files ?? [];
          if (file !== undefined) onChoose(file);
          event.currentTarget.value = '';
        }}
      />
    </label>
  );
}

interface RunFoundProps {
  readonly preview: RunPreview;
  readonly isDisabled: boolean;
  readonly onTake: () => void;
}

function RunFound({ preview, isDisabled, onTake }: RunFoundProps) {
  if (preview.isHere) return null;
  return (
    <>
      <p>{BRING_IN.holds(preview.inputs, preview.events, preview.notes)}</p>
      <div class="way-buttons">
        <Button onPress={onTake} look="solid" disabled={isDisabled}>
          {BRING_IN.take}
        </Button>
      </div>
    </>
  );
}
