/** How the pieces of a run came out: what was found, who found it and when, what was said before; and the form to say so. */
import { useState } from 'preact/hooks';
import type { Outcome } from '../../../server/core/record/card.ts';
import { Button } from '../../controls/button.tsx';
import { CHOICE_FIELDS, judgingsOf, SEEN_FIELDS, tickedOf, UNLOOKED } from '../../outcome.ts';
import type { ChoiceField, Judging, SeenField } from '../../outcome.ts';
import { isToJudge } from '../../setting.ts';
import type { Rest } from '../../setting.ts';
import type { CardHold, HeldCard } from '../../use-card.ts';
import { useStep } from '../../use-step.ts';
import { clock } from '../../words/measure.ts';
import { JUDGING, OUTCOME_CHOICES, OUTCOME_FIELD, SEEN_CHOICES, SETTING } from '../../words/outcome.ts';
import { OutcomeForm } from './outcome-form.tsx';
import { day } from '../../words/day.ts';

export interface OutcomePartProps {
  readonly held: HeldCard;
  readonly hold: CardHold;
  readonly rest: Rest;
}

export function OutcomePart({ held, hold, rest }: OutcomePartProps) {
  const [isJudging, setJudging] = useState(false);
  const part = useStep<HTMLElement>(isJudging ? 'judging' : 'judged');
  const { outcome } = held.card;
  const judgings = judgingsOf(held.entries);
  const keepIt = async (next: Outcome, by: string | null): Promise<void> => {
    if (await hold.write({ outcome: next }, by)) setJudging(false);
  };
  if (isJudging) {
    return (
      <section class="outcome-part" aria-labelledby="outcome" ref={part}>
        <h2 id="outcome">{JUDGING.title}</h2>
        <OutcomeForm
          outcome={outcome}
          trouble={hold.trouble}
          onKeep={(next, by) => void keepIt(next, by)}
          onLeave={() => setJudging(false)}
        />
      </section>
    );
  }
  const isOffered = isToJudge(rest);
  const label = isOffered ? JUDGING.judge : JUDGING.early;
  return (
    <section class="outcome-part" aria-labelledby="outcome" ref={part}>
      <h2 id="outcome">{JUDGING.title}</h2>
      {outcome !== null && judgings[0] !== undefined && <Judged judging={judgings[0]} isNewest />}
      <Button
        onPress={() => setJudging(true)}
        look={outcome === null && isOffered ? 'solid' : 'plain'}
        class="button-low"
      >
        {outcome === null ? label : JUDGING.change}
      </Button>
      {judgings.length > 1 && (
        <details class="outcome-before">
          <summary>{JUDGING.before}</summary>
          {judgings.slice(1).map((judging) => (
            <Judged key={judging.writtenAtWall} judging={judging} />
          ))}
        </details>
      )}
    </section>
  );
}

function Judged({ judging, isNewest = false }: { readonly judging: Judging; readonly isNewest?: boolean }) {
  const { outcome, by, writtenAtWall } = judging;
  const own = outcome?.words ?? null;
  const when = SETTING.moment(day(writtenAtWall), clock(writtenAtWall, 0, 0));
  return (
    <div class="outcome-judged">
      <p class={isNewest ? 'outcome-verdict' : ''}>
        {outcome === null ? JUDGING.takenBack : SETTING.judged(OUTCOME_CHOICES.verdict[outcome.verdict])}
      </p>
      {outcome !== null && <p>{foundWords(outcome)}</p>}
      {own !== null && <p class="said-by-person">{own}</p>}
      <p class="quiet">{JUDGING.who(by ?? JUDGING.somebody, when)}</p>
    </div>
  );
}

/** All that was looked at; what was not is left out. */
function foundWords(outcome: Outcome): string {
  const fields: readonly (ChoiceField | SeenField)[] = [...CHOICE_FIELDS.slice(1), ...SEEN_FIELDS];
  return fields
    .filter((field) => tickedOf(outcome, field) !== UNLOOKED)
    .map((field) => JUDGING.found(OUTCOME_FIELD[field], wordFor(field, tickedOf(outcome, field))))
    .join(JUDGING.and);
}

function wordFor(field: ChoiceField | SeenField, value: string): string {
  const choices: Readonly<Partial<Record<string, Readonly<Record<string, string>>>>> = OUTCOME_CHOICES;
  const words: Readonly<Record<string, string>> = choices[field] ?? SEEN_CHOICES;
  return words[value] ?? value;
}
