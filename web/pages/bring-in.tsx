/** A file brought in, step by step: chosen, looked at, read as it was meant, taken. Nothing is kept before the last press. */
import { useState } from 'preact/hooks';
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
import { BUTTONS } from '../words/buttons.ts';
import { BRING_IN } from '../words/handover.ts';
import { TableQuestions } from './bring-in/table-questions.tsx';
import '../style/handover.css';

/** The file as it was chosen. */
export interface ChosenFile {
  readonly name: string;
  readonly text: string;
  /** When it was last written to, ms. */
  readonly writtenAtMs: number;
}

type Step =
  | { readonly kind: 'choosing'; readonly trouble: string | null }
  | { readonly kind: 'reading' }
  | { readonly kind: 'asking'; readonly file: ChosenFile; readonly preview: Preview }
  | { readonly kind: 'taking' }
  | { readonly kind: 'taken'; readonly run: string };

export function BringInPage() {
  const [step, setStep] = useState<Step>({ kind: 'choosing', trouble: null });
  const look = async (file: ChosenFile, choice: TableChoice | null): Promise<void> => {
    const answer = await lookAt(file.text, choice);
    setStep(answer.ok ? { kind: 'asking', file, preview: answer.value } : { kind: 'choosing', trouble: answer.why });
  };
  const choose = async (chosen: File): Promise<void> => {
    if (chosen.size > FILE_MOST_BYTES) return setStep({ kind: 'choosing', trouble: BRING_IN.tooLarge });
    setStep({ kind: 'reading' });
    await look({ name: chosen.name, text: await textOf(chosen), writtenAtMs: chosen.lastModified }, null);
  };
  const take = async (file: ChosenFile, choice: TableChoice | null, unsaid: Unsaid | null): Promise<void> => {
    setStep({ kind: 'taking' });
    const answer = await takeIn(file.text, choice, unsaid);
    setStep(answer.ok ? { kind: 'taken', run: answer.value.run } : { kind: 'choosing', trouble: answer.why });
  };
  const said = saidOf(step);
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
          <FileChoice isAgain={step.kind === 'asking'} onChoose={(file) => void choose(file)} />
        )}
        {step.kind === 'asking' && step.preview.kind === 'run' && (
          <RunFound preview={step.preview} onTake={() => void take(step.file, null, null)} />
        )}
        {step.kind === 'asking' && step.preview.kind === 'table' && (
          <TableQuestions
            file={step.file}
            preview={step.preview}
            onChoice={(choice) => void look(step.file, choice)}
            onTake={(choice, unsaid) => void take(step.file, choice, unsaid)}
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
          <span class="button-word">{BUTTONS.runs}</span>
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
      return foundWords(step.preview);
    case 'taking':
      return { act: BRING_IN.title, detail: BRING_IN.taking };
    case 'taken':
      return { act: BRING_IN.done, detail: BRING_IN.doneDetail };
  }
}

function foundWords(preview: Preview): { readonly act: string; readonly detail: string } {
  if (preview.kind === 'table') {
    const act = preview.choice === null ? BRING_IN.isOurs : BRING_IN.isTable;
    return { act, detail: preview.trouble ?? BRING_IN.tableDetail(preview.readings, preview.lastedS) };
  }
  if (preview.isHere) return { act: BRING_IN.isHere, detail: BRING_IN.nothingChanged };
  const act = preview.what === 'run' ? BRING_IN.isRun(preview.title) : BRING_IN.isTrace(preview.title);
  return { act, detail: BRING_IN.runDetail(preview.startedAtWall, preview.lastedS) };
}

function FileChoice({ isAgain, onChoose }: { readonly isAgain: boolean; readonly onChoose: (file: File) => void }) {
  return (
    <label class={`button choose-file ${isAgain ? 'button-plain' : 'button-solid'}`}>
      <span class="button-word">{isAgain ? BRING_IN.another : BRING_IN.choose}</span>
      <input
        type="file"
        class="only-spoken"
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

function RunFound({ preview, onTake }: { readonly preview: RunPreview; readonly onTake: () => void }) {
  if (preview.isHere) return null;
  return (
    <>
      <p>{BRING_IN.holds(preview.inputs, preview.events, preview.notes)}</p>
      <div class="way-buttons">
        <Button onPress={onTake} look="solid">
          {BRING_IN.take}
        </Button>
      </div>
    </>
  );
}
