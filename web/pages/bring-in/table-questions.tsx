/** A table from elsewhere: what its columns are, how its figures are written, what it is to be judged under. Read again at every change. */
import { useState } from 'preact/hooks';
import { AskAgainStrip } from '../../controls/ask-again.tsx';
import { Button } from '../../controls/button.tsx';
import type { TableChoice, TablePreview, Unsaid } from '../../incoming.ts';
import { fetchProfiles } from '../../fetched.ts';
import type { ProfileCard } from '../../fetched.ts';
import { useAsked } from '../../use-asked.ts';
import { BRING_IN, HAND_OVER } from '../../words/handover.ts';
import type { ChosenFile, FoundFile } from '../bring-in.tsx';
import { SmallCurve } from './small-curve.tsx';

/** Longest name of a run, characters, as the card has it. */
const NAME_MOST_CHARS = 120;

interface TableQuestionsProps {
  readonly found: FoundFile;
  readonly preview: TablePreview;
  readonly onChoice: (choice: TableChoice) => void;
  readonly onTake: (unsaid: Unsaid) => void;
}

export function TableQuestions({ found, preview, onChoice, onTake }: TableQuestionsProps) {
  const { choice, out } = found;
  const { curve, trouble } = preview;
  const profiles = useAsked('', fetchProfiles);
  const [said, setSaid] = useState<Partial<Unsaid>>({});
  const likely = unsaidOf(found.file, preview, profiles.value ?? []);
  const unsaid: Unsaid = {
    ...likely,
    ...said,
    ...(preview.startedAtWall === null ? {} : { startedAtWall: preview.startedAtWall }),
  };
  const change = (part: Partial<Unsaid>): void => setSaid((now) => ({ ...now, ...part }));
  const canTake = out === null && !found.isBehind && trouble === null && curve.length > 0 && unsaid.profile !== '';
  return (
    <>
      {choice !== null && <FirstRows preview={preview} choice={choice} />}
      {choice !== null && <ColumnChoices preview={preview} choice={choice} onChoice={onChoice} />}
      {curve.length > 1 && <SmallCurve points={curve} />}
      {profiles.trouble !== null && (
        <AskAgainStrip why={BRING_IN.noProfiles(profiles.trouble)} onAgain={() => void profiles.ask()} />
      )}
      <div class="bring-choices">
        <Choice
          name={BRING_IN.profile}
          value={unsaid.profile}
          options={(profiles.value ?? []).map(({ id, title }) => [id, title])}
          onChoose={(profile) => change({ profile })}
        />
        <label class="way-choice">
          {BRING_IN.name}
          <input
            type="text"
            maxLength={NAME_MOST_CHARS}
            value={unsaid.name}
            onInput={(event) => change({ name: event.currentTarget.value })}
          />
        </label>
        {preview.startedAtWall === null && (
          <label class="way-choice">
            {BRING_IN.began}
            <input
              type="datetime-local"
              value={localOf(unsaid.startedAtWall)}
              onInput={(event) => change({ startedAtWall: wallOf(event.currentTarget.value, unsaid.startedAtWall) })}
            />
          </label>
        )}
      </div>
      <div class="way-buttons">
        <Button onPress={() => onTake(unsaid)} look="solid" disabled={!canTake}>
          {BRING_IN.take}
        </Button>
      </div>
    </>
  );
}

/** What nobody has said yet, as it most likely is. A file is written when what it holds is over, which hangs on how its times are read. */
function unsaidOf(
  { name, writtenAtMs }: ChosenFile,
  { startedAtWall, lastedS }: TablePreview,
  [first]: readonly ProfileCard[],
): Unsaid {
  const began = startedAtWall ?? new Date(writtenAtMs - lastedS * 1000).toISOString();
  return { profile: first?.id ?? '', name: name.replace(/\.\w+$/, '').slice(0, NAME_MOST_CHARS), startedAtWall: began };
}

/** As the input for a moment has it: the viewer's own time, to the minute. */
function localOf(wall: string): string {
  const at = new Date(wall);
  return new Date(at.getTime() - at.getTimezoneOffset() * 60_000).toISOString().slice(0, 16);
}

function wallOf(local: string, before: string): string {
  const at = new Date(local);
  return Number.isNaN(at.getTime()) ? before : at.toISOString();
}

function columnName({ names }: TablePreview, column: number): string {
  const name = names[column] ?? '';
  return name === '' ? BRING_IN.column(column + 1) : name;
}

/** As many columns as the widest of the rows has. */
function columnsOf({ cells, names }: TablePreview): number[] {
  const count = Math.max(names.length, ...cells.map((row) => row.length));
  return Array.from({ length: count }, (_, column) => column);
}

function FirstRows({ preview, choice }: { readonly preview: TablePreview; readonly choice: TableChoice }) {
  const columns = columnsOf(preview);
  const used = (column: number): string =>
    column === choice.time ? BRING_IN.time : column === choice.temperature ? BRING_IN.temperature : BRING_IN.neither;
  const look = (column: number): string =>
    column === choice.time || column === choice.temperature ? 'is-used' : 'is-unused';
  return (
    <div class="bring-rows" tabIndex={0} role="region" aria-label={BRING_IN.first}>
      <table>
        <caption>{BRING_IN.first}</caption>
        <thead>
          <tr>
            {columns.map((column) => (
              <th scope="col" key={column} class={look(column)}>
                {columnName(preview, column)}
                <br />
                {used(column)}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {preview.cells.map((row, at) => (
            <tr key={at}>
              {columns.map((column) => (
                <td key={column} class={look(column)}>
                  {row[column] ?? ''}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

interface ColumnChoicesProps {
  readonly preview: TablePreview;
  readonly choice: TableChoice;
  readonly onChoice: (choice: TableChoice) => void;
}

function ColumnChoices({ preview, choice, onChoice }: ColumnChoicesProps) {
  const columns = columnsOf(preview).map((column): [string, string] => [String(column), columnName(preview, column)]);
  return (
    <div class="bring-choices">
      <Choice
        name={BRING_IN.time}
        value={String(choice.time)}
        options={columns}
        onChoose={(column) => onChoice({ ...choice, time: Number(column) })}
      />
      <Choice
        name={BRING_IN.counted}
        value={choice.form}
        options={optionsOf(BRING_IN.forms)}
        onChoose={(form) => onChoice({ ...choice, form })}
      />
      <Choice
        name={BRING_IN.temperature}
        value={String(choice.temperature)}
        options={columns}
        onChoose={(column) => onChoice({ ...choice, temperature: Number(column) })}
      />
      <Choice
        name={BRING_IN.unit}
        value={choice.unit}
        options={optionsOf(BRING_IN.units)}
        onChoose={(unit) => onChoice({ ...choice, unit })}
      />
      <Choice
        name={BRING_IN.apart}
        value={choice.separator}
        options={optionsOf(HAND_OVER.separators)}
        onChoose={(separator) => onChoice({ ...choice, separator })}
      />
      <Choice
        name={BRING_IN.decimal}
        value={choice.decimal}
        options={optionsOf(BRING_IN.decimals)}
        onChoose={(decimal) => onChoice({ ...choice, decimal })}
      />
    </div>
  );
}

function optionsOf<Key extends string>(words: Readonly<Record<Key, string>>): [Key, string][] {
  return Object.entries(words) as [Key, string][];
}

interface ChoiceProps<Value extends string> {
  readonly name: string;
  readonly value: Value;
  readonly options: readonly (readonly [Value, string])[];
  readonly onChoose: (value: Value) => void;
}

function Choice<Value extends string>({ name, value, options, onChoose }: ChoiceProps<Value>) {
  return (
    <label class="way-choice">
      {name}
      <select value={value} onChange={(event) => onChoose(event.currentTarget.value as Value)}>
        {options.map(([key, words]) => (
          <option key={key} value={key}>
            {words}
          </option>
        ))}
      </select>
    </label>
  );
}
