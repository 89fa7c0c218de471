/** What each number of the thermometer's line is: as printed, or of what sensor, and what it measures. */
import { useId, useState } from 'preact/hooks';
import type { NumberKnown, ProbeKnown } from '../../server/core/check/told.ts';
import type { Role } from '../../server/core/record/command.ts';
import { postCommand } from '../post.ts';
import { SENSOR_KINDS, sensorOf, type SensorKind, type SensorTyped, typedOf } from '../sensor-form.ts';
import { useKeeping } from '../use-keeping.ts';
import { madeWords, CHECK } from '../words/check.ts';
import { Button } from './button.tsx';
import { Field } from './field.tsx';

const ROLES: readonly Role[] = ['chocolate', 'bath', 'room', 'ignored'];

export interface NumberRowsProps {
  readonly bowl: string;
  readonly known: ProbeKnown;
  /** Asks anew what is known. */
  readonly onKept: () => Promise<void>;
}

export function NumberRows({ bowl, known, onKept }: NumberRowsProps) {
  const { numbers, lastLine } = known;
  return (
    <section class="probe-numbers" aria-labelledby="numbers">
      <h2 id="numbers">{CHECK.numbers}</h2>
      <p>{CHECK.numbersHint}</p>
      <p>{lastLine === null ? CHECK.noLine : [`${CHECK.says} `, <code key="line">{lastLine}</code>]}</p>
      <ul>
        {numbers.map((number) => (
          <NumberRow key={number.key} bowl={bowl} number={number} beside={numbers} onKept={onKept} />
        ))}
      </ul>
    </section>
  );
}

interface NumberRowProps {
  readonly bowl: string;
  readonly number: NumberKnown;
  readonly beside: readonly NumberKnown[];
  readonly onKept: () => Promise<void>;
}

function NumberRow({ bowl, number, beside, onKept }: NumberRowProps) {
  const [typed, setTyped] = useState<SensorTyped | null>(null);
  const isChocolateElsewhere = beside.some(({ key, role }) => role === 'chocolate' && key !== number.key);
  const [why, keepIt] = useKeeping(async (next: SensorTyped) => {
    const sensor = sensorOf(next);
    if (sensor === null) return CHECK.wrong;
    const answer = await postCommand(bowl, { name: 'assign-role', channel: number.key, role: next.role, sensor });
    if (!answer.ok) return answer.why;
    await onKept();
    setTyped(null);
    return null;
  });
  return (
    <li>
      <Button
        class="button-low"
        expanded={typed !== null}
        onPress={() => setTyped(typed === null ? typedOf(number, isChocolateElsewhere) : null)}
      >
        {madeWords(number)}
      </Button>
      {typed !== null && (
        <form
          class="probe-number"
          onSubmit={(event) => {
            event.preventDefault();
            keepIt(typed);
          }}
        >
          <SensorFields
            typed={typed}
            hasUnit={number.unit !== null}
            others={beside.filter(({ key }) => key !== number.key).map(({ key }) => key)}
            onType={(part) => setTyped({ ...typed, ...part })}
          />
          {why !== null && <p role="alert">{why}</p>}
          <Button look="solid" class="button-low" onPress={() => keepIt(typed)}>
            {CHECK.keep}
          </Button>
        </form>
      )}
    </li>
  );
}

interface SensorFieldsProps {
  readonly typed: SensorTyped;
  readonly hasUnit: boolean;
  readonly others: readonly string[];
  readonly onType: (part: Partial<SensorTyped>) => void;
}

function SensorFields({ typed, hasUnit, others, onType }: SensorFieldsProps) {
  const { kind } = typed;
  const number = (key: 'ohmsAt25C' | 'betaK' | 'a' | 'b' | 'c' | 'coldTemp', name: string) => (
    <Field name={name} kind="number" value={typed[key]} onType={(text) => onType({ [key]: text })} />
  );
  return (
    <>
      <div class="field-row field-words-row">
        <Choice
          name={CHECK.isOf}
          value={kind}
          choices={SENSOR_KINDS.map((each) => [each, CHECK.kinds[each]])}
          onChoose={(each) => onType({ kind: each as SensorKind })}
        />
        <Choice
          name={CHECK.measures}
          value={typed.role}
          choices={ROLES.map((each) => [each, CHECK.roles[each]])}
          onChoose={(role) => onType({ role: role as Role })}
        />
        {(kind === 'k' || kind === 't') && (
          <Choice
            name={CHECK.cold}
            value={typed.cold}
            choices={[['', CHECK.coldTyped], ...others.map((key) => [key, CHECK.coldOf(key)] as const)]}
            onChoose={(cold) => onType({ cold })}
          />
        )}
      </div>
      <div class="field-row">
        {kind === 'beta' && [number('ohmsAt25C', CHECK.ohmsAt25C), number('betaK', CHECK.betaK)]}
        {kind === 'steinhart-hart' && [number('a', CHECK.a), number('b', CHECK.b), number('c', CHECK.c)]}
        {(kind === 'k' || kind === 't') && typed.cold === '' && number('coldTemp', CHECK.coldC())}
      </div>
      {kind !== 'printed' && !hasUnit && (
        <label class="probe-thousands">
          <input
            type="checkbox"
            checked={typed.inThousands}
            onChange={(event) => onType({ inThousands: event.currentTarget.checked })}
          />
          {CHECK.thousands}
        </label>
      )}
    </>
  );
}

interface ChoiceProps {
  readonly name: string;
  readonly value: string;
  readonly choices: readonly (readonly [value: string, words: string])[];
  readonly onChoose: (value: string) => void;
}

function Choice({ name, value, choices, onChoose }: ChoiceProps) {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>{name}</label>
      <select id={id} value={value} onChange={(event) => onChoose(event.currentTarget.value)}>
        {choices.map(([each, words]) => (
          <option key={each} value={each}>
            {words}
          </option>
        ))}
      </select>
    </div>
  );
}
