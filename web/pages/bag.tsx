/** Numbers from the bag: three of them make a whole profile, shown as it grows, each number marked as the bag's or ours. */
import { useState } from 'preact/hooks';
import type { Profile } from '../../server/core/record/profile.ts';
import { Button } from '../controls/button.tsx';
import { Field } from '../controls/field.tsx';
import { Link, PlainPage } from '../controls/plain-page.tsx';
import { ProfileNumbers } from '../controls/profile-numbers.tsx';
import { ProfileRoad } from '../controls/profile-road.tsx';
import { typedFigure } from '../draft.ts';
import { addProfile, type BagFigures, fromBag } from '../profiles.ts';
import type { Answer } from '../post.ts';
import { useLater } from '../use-later.ts';
import { unitSign } from '../words/manner.ts';
import { BAG } from '../words/profiles.ts';
import { ELSEWHERE } from '../words/elsewhere.ts';

/** As typed. */
interface Bag {
  readonly title: string;
  readonly coating: string;
  readonly meltC: string;
  readonly coolC: string;
  readonly workC: string;
}
type Key = keyof Bag;

const EMPTY: Bag = { title: '', coating: '', meltC: '', coolC: '', workC: '' };
const KEYS: readonly Key[] = ['title', 'coating', 'meltC', 'coolC', 'workC'];
const FIGURES = [
  ['meltC', BAG.melt],
  ['coolC', BAG.cool],
  ['workC', BAG.work],
] as const;

interface Complaint {
  readonly at: Key | null;
  readonly why: string;
}

export function BagPage() {
  const [bag, setBag] = useState(EMPTY);
  const [profile, setProfile] = useState<Profile | null>(null);
  const [complaint, setComplaint] = useState<Complaint | null>(null);
  const look = useLater(async (next: Bag) => {
    const answer = await fromBag(figuresOf(next));
    return () => {
      setProfile(answer.ok ? answer.value : null);
      setComplaint(answer.ok ? null : complaintOf(answer));
    };
  });
  const type = (key: Key) => (text: string) => {
    const next = { ...bag, [key]: text };
    setBag(next);
    setComplaint(null);
    // A name can wait: the road is there as soon as the three figures are.
    if (FIGURES.every(([figure]) => next[figure].trim() !== '')) look(withNames(next));
    else setProfile(null);
  };
  const keep = async (): Promise<void> => {
    const missing = KEYS.find((key) => bag[key].trim() === '');
    // What keeping it says is newer than what typing it said.
    look(null);
    if (missing !== undefined) return setComplaint({ at: missing, why: BAG.missing });
    const made = await fromBag(figuresOf(bag));
    const answer = made.ok ? await addProfile(made.value) : made;
    if (answer.ok) location.hash = `#/profiles/${encodeURIComponent(answer.value.id)}`;
    else setComplaint(complaintOf(answer));
    return undefined;
  };
  const wrongAt = (key: Key): string | null => (complaint?.at === key ? complaint.why : null);
  return (
    <PlainPage
      act={BAG.title}
      detail={complaint !== null && complaint.at === null ? complaint.why : BAG.detail}
      controls={
        <>
          <Button onPress={() => void keep()} look="solid">
            {BAG.keep}
          </Button>
          <Link to="#/profiles" word={ELSEWHERE.profiles} />
        </>
      }
    >
      <form
        class="profile-form bag-form"
        onSubmit={(event) => {
          event.preventDefault();
          void keep();
        }}
      >
        <fieldset class="field-row field-words-row">
          <Field
            name={BAG.name}
            value={bag.title}
            hint={BAG.nameHint}
            wrong={wrongAt('title')}
            onType={type('title')}
          />
          <Field
            name={BAG.coating}
            value={bag.coating}
            choices={BAG.coatings}
            wrong={wrongAt('coating')}
            onType={type('coating')}
          />
        </fieldset>
        <fieldset class="field-row">
          {FIGURES.map(([key, name]) => (
            <Field
              key={key}
              name={name}
              value={bag[key]}
              kind="number"

              wrong={wrongAt(key)}
              onType={type(key)}
            />
          ))}
        </fieldset>
      </form>
      <p class="bag-caution">{BAG.hint(unitSign())}</p>
      <p class="bag-caution">{BAG.notSeeding}</p>
      {profile !== null && <ProfileRoad phases={profile.phases} />}
      {profile !== null && <ProfileNumbers profile={profile} />}
    </PlainPage>
  );
}

function figuresOf({ title, coating, meltC, coolC, workC }: Bag): BagFigures {
  const figure = (text: string): BagFigures['meltC'] => typedFigure(text) ?? '';
  return { title, coating, meltC: figure(meltC), coolC: figure(coolC), workC: figure(workC) };
}

function withNames(bag: Bag): Bag {
  return { ...bag, title: bag.title.trim() || BAG.title, coating: bag.coating.trim() || BAG.title };
}

/** An id comes of the name: what is wrong with it is said there. */
function complaintOf({ why, at }: Extract<Answer<unknown>, { ok: false }>): Complaint {
  const key = at?.path === 'id' ? 'title' : KEYS.find((each) => each === at?.path);
  return key === undefined ? { at: null, why } : { at: key, why: at!.rule };
}
