/** Finding runs: a line for words, and all else folded away until it is asked for. */
import { useState } from 'preact/hooks';
import type { Standing } from '../../../server/core/record/event.ts';
import { Button } from '../../controls/button.tsx';
import { EVERY_RUN, isNarrow } from '../../run-list.ts';
import type { RunChoices, RunWish } from '../../run-list.ts';
import { COATING_NAME, KIND_NAME, LIBRARY, ORDER_NAME, VERDICT_NAME } from '../../words/library.ts';
import { STANDING_NAME } from '../../words/names.ts';
import { standingAtEnd } from '../../words/standing.ts';

export interface FindBarProps {
  readonly wish: RunWish;
  readonly choices: RunChoices;
  readonly onChange: (part: Partial<RunWish>) => void;
}

type Option = readonly [value: string, words: string];

export function FindBar({ wish, choices, onChange }: FindBarProps) {
  const [isOpen, setOpen] = useState(false);
  const narrowed = Object.entries(wish).filter(([key, value]) => !['words', 'order'].includes(key) && value !== '');
  return (
    <search class="find-bar">
      <label class="find-words">
        {LIBRARY.find}
        <input
          type="search"
          value={wish.words}
          maxLength={200}
          autocomplete="off"
          onInput={(event) => onChange({ words: event.currentTarget.value })}
        />
      </label>
      <Button onPress={() => setOpen(!isOpen)} class="button-low" expanded={isOpen}>
        {narrowed.length === 0 ? LIBRARY.narrow : LIBRARY.narrowed(narrowed.length)}
      </Button>
      {isOpen && <Wishes wish={wish} choices={choices} onChange={onChange} />}
      {isOpen && isNarrow(wish) && (
        <Button onPress={() => onChange({ ...EVERY_RUN, order: wish.order })} class="button-low">
          {LIBRARY.all}
        </Button>
      )}
    </search>
  );
}

function Wishes({ wish, choices, onChange }: FindBarProps) {
  const pick = (key: keyof RunWish, title: string, options: readonly Option[], first: readonly Option[] = ANY) => (
    <label>
      {title}
      <select value={wish[key]} onChange={(event) => onChange({ [key]: event.currentTarget.value })}>
        {[...first, ...options].map(([value, words]) => (
          <option key={value} value={value}>
            {words}
          </option>
        ))}
      </select>
    </label>
  );
  return (
    <div class="find-wishes">
      {pick('order', LIBRARY.order, Object.entries(ORDER_NAME), [])}
      {pick('verdict', LIBRARY.verdict, Object.entries(VERDICT_NAME))}
      {pick('standing', LIBRARY.standing, STANDINGS)}
      {pick('profile', LIBRARY.profile, titledOnce(choices.profiles))}
      {pick(
        'coating',
        LIBRARY.coating,
        choices.coatings.map((each) => [each, COATING_NAME[each] ?? each]),
      )}
      {pick(
        'tag',
        LIBRARY.tag,
        choices.tags.map((tag) => [tag, tag]),
      )}
      {pick('simulated', LIBRARY.kind, Object.entries(KIND_NAME))}
    </div>
  );
}

const ANY: readonly Option[] = [['', LIBRARY.any]];
/** As the rows of runs that are over say them. */
const STANDINGS = (Object.keys(STANDING_NAME) as Standing[]).map(
  (standing) => [standing, standingAtEnd(standing)] as const,
);

/** Two profiles of one title are told apart by their ids. */
function titledOnce(profiles: RunChoices['profiles']): readonly Option[] {
  const isShared = (title: string): boolean => profiles.filter((each) => each.title === title).length > 1;
  return profiles.map(({ id, title }) => [id, isShared(title) ? `${title} (${id})` : title]);
}
