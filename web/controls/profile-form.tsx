/** Every number of a profile as a field, phase by phase, with its source under it and what is wrong with it at its place. Changes a draft. */
import { useState } from 'preact/hooks';
import {
  type Draft,
  type LooseKey,
  pathOf,
  type Typed,
  typedC,
  typedMin,
  withCue,
  withEdge,
  withNumber,
  withoutPhase,
} from '../draft.ts';
import type { Wrong } from '../profiles.ts';
import { S_PER_MIN, bound } from '../words/measure.ts';
import { marked, unitSign } from '../words/manner.ts';
import { phaseName } from '../words/names.ts';
import { PROFILE } from '../words/profiles.ts';
import { Button } from './button.tsx';
import { Field } from './field.tsx';

export interface ProfileFormProps {
  readonly draft: Draft;
  readonly wrongs: readonly Wrong[];
  readonly onChange: (draft: Draft) => void;
  /** The Enter key in any field. */
  readonly onKeep: () => void;
}

export function ProfileForm({ draft, wrongs, onChange, onKeep }: ProfileFormProps) {
  const wrongAt = (path: string): string | null => wrongs.find((wrong) => wrong.path === path)?.rule ?? null;
  const words = (key: 'title' | 'coating' | 'source', name: string) => (
    <Field name={name} value={draft[key]} wrong={wrongAt(key)} onType={(text) => onChange({ ...draft, [key]: text })} />
  );
  return (
    <form
      class="profile-form"
      onSubmit={(event) => {
        event.preventDefault();
        onKeep();
      }}
    >
      <fieldset class="field-row field-words-row">
        {words('title', PROFILE.name)}
        {words('coating', PROFILE.coating)}
        {words('source', PROFILE.source)}
      </fieldset>
      {draft.phases.map(({ id }, at) => (
        <PhaseFields key={id} draft={draft} at={at} wrongAt={wrongAt} onChange={onChange} />
      ))}
    </form>
  );
}

const LOOSE: readonly (readonly [LooseKey, string])[] = [
  ['ceilingC', PROFILE.ceiling],
  ['floorC', PROFILE.floor],
  ['lostAboveC', PROFILE.lost],
  ['holdS', PROFILE.hold],
];

function PhaseFields(props: {
  readonly draft: Draft;
  readonly at: number;
  readonly wrongAt: (path: string) => string | null;
  readonly onChange: (draft: Draft) => void;
}) {
  const { draft, at, wrongAt, onChange } = props;
  const phase = draft.phases[at]!;
  const name = phaseName(phase.id);
  const band = pathOf(draft, at, 'bandC');
  const sourceOf = (path: string): string | null => draft.sources?.[path] ?? null;
  const edge = (which: 0 | 1, label: string) => (
    <NumberField
      name={label}
      value={phase.bandC[which]}
      wrong={wrongAt(band)}
      hint={which === 0 ? sourceOf(band) : null}
      onType={(value) => onChange(withEdge(draft, at, which, value, PROFILE.yours))}
    />
  );
  return (
    <fieldset class="phase-fields">
      <legend>
        {name}, {PROFILE.headings[phase.heading]}, {unitSign()}
      </legend>
      <div class="field-row">
        {edge(0, PROFILE.low)}
        {edge(1, PROFILE.high)}
        {LOOSE.map(([key, label]) => (
          <NumberField
            key={key}
            name={label}
            value={phase[key]}
            isTime={key === 'holdS'}
            wrong={wrongAt(pathOf(draft, at, key))}
            hint={sourceOf(pathOf(draft, at, key))}
            onType={(value) => onChange(withNumber(draft, at, key, value, PROFILE.yours))}
          />
        ))}
      </div>
      <Field
        name={PROFILE.cue}
        value={phase.cue ?? ''}
        wrong={wrongAt(pathOf(draft, at, 'cue'))}
        onType={(text) => onChange(withCue(draft, at, text))}
      />
      {draft.phases.length > 1 && (
        <Button onPress={() => onChange(withoutPhase(draft, at))} class="button-low">
          {PROFILE.withoutPhase(name)}
        </Button>
      )}
    </fieldset>
  );
}

interface NumberFieldProps {
  readonly name: string;
  readonly value: Typed | undefined;
  /** Minutes of seconds rather than degrees. */
  readonly isTime?: boolean;
  readonly wrong: string | null;
  readonly hint: string | null;
  readonly onType: (value: Typed | undefined) => void;
}

/** What is being typed stays as it is typed; it follows the draft only where somebody else changed that. */
function NumberField({ name, value, isTime = false, wrong, hint, onType }: NumberFieldProps) {
  const typed = isTime ? typedMin : typedC;
  const [text, setText] = useState(textOf(value, isTime));
  const shown = typed(text) === value ? text : textOf(value, isTime);
  const type = (next: string): void => {
    setText(next);
    onType(typed(next));
  };
  return <Field name={name} value={shown} kind="number" wrong={wrong} hint={hint} onType={type} />;
}

const HUNDREDTHS = 100;

function textOf(value: Typed | undefined, isTime: boolean): string {
  if (value === undefined) return '';
  if (typeof value === 'string') return value;
  return isTime ? marked(String(Math.round((value / S_PER_MIN) * HUNDREDTHS) / HUNDREDTHS)) : bound(value);
}
