/** The card of a run: what people say of it, to be read, written on, and looked through: who changed what. */
import { useEffect, useState } from 'preact/hooks';
import type { Card, CardEntry } from '../../server/core/record/card.ts';
import { fetchCard, postCard, TYPED } from '../cards.ts';
import type { TypedField } from '../cards.ts';
import { onRunChanged } from '../run-changed.ts';
import { dateOf } from '../run-words.ts';
import { useAsked } from '../use-asked.ts';
import { useStep } from '../use-step.ts';
import { CARD, FIELD_SHORT } from '../words/cards.ts';
import { marked } from '../words/manner.ts';
import { measured } from '../words/measure.ts';
import { AskAgainStrip } from './ask-again.tsx';
import { Button } from './button.tsx';
import { SIGN } from './icons.tsx';
import { CardForm } from './card-form.tsx';
import '../style/cards.css';

/** Asks for the card by itself, and anew when it was changed elsewhere. */
export function CardPart({ run }: { readonly run: string }) {
  const { value: whole, trouble, ask, take } = useAsked(run, () => fetchCard(run));
  const [isWriting, setWriting] = useState(false);
  const part = useStep<HTMLElement>(isWriting ? 'writing' : 'reading');
  useEffect(() => onRunChanged(run, () => void ask()), [run]);
  const write = async (change: Partial<Card>, by: string | null): Promise<string | null> => {
    const written = await postCard(run, change, by);
    if (!written.ok) return written.why;
    take(written.value);
    setWriting(false);
    return null;
  };
  return (
    <section class="card-part" ref={part}>
      <h2>{CARD.title}</h2>
      {whole === null && trouble === null && <p role="status">{CARD.fetching}</p>}
      {trouble !== null && <AskAgainStrip why={trouble} onAgain={() => void ask()} />}
      {whole !== null && isWriting && <CardForm card={whole.card} onWrite={write} onLeave={() => setWriting(false)} />}
      {whole !== null && !isWriting && (
        <>
          <CardFields card={whole.card} />
          <Button onPress={() => setWriting(true)} sign={SIGN.note} class="button-low">
            {CARD.write}
          </Button>
        </>
      )}
      {whole !== null && <CardHistory entries={whole.entries} />}
    </section>
  );
}

function CardFields({ card }: { readonly card: Card }) {
  const filled = TYPED.map((field) => [field, valueWords(field, card)] as const).filter(([, words]) => words !== '');
  if (filled.length === 0) return <p class="quiet">{CARD.empty}</p>;
  return (
    <dl class="card-fields">
      {filled.map(([field, words]) => (
        <div key={field}>
          <dt>{FIELD_SHORT[field]}</dt>
          <dd class="said-by-person">{words}</dd>
        </div>
      ))}
    </dl>
  );
}

/** Newest first. */
function CardHistory({ entries }: { readonly entries: readonly CardEntry[] }) {
  if (entries.length === 0) return null;
  const now = new Date();
  return (
    <details class="card-history">
      <summary>{CARD.history}</summary>
      <ol>
        {entries.toReversed().map((entry, i) => (
          <li key={entries.length - i}>
            <span class="quiet">
              {entry.by ?? CARD.somebody}, {dateOf(entry.writtenAtWall, now)}
            </span>
            <span class="said-by-person">{changeWords(entry.change)}</span>
          </li>
        ))}
      </ol>
    </details>
  );
}

/** Setting and outcome are told in full where they are written. */
function changeWords(change: Partial<Card>): string {
  const typed = TYPED.filter((field) => field in change).map((field) => {
    const words = valueWords(field, change);
    return words === '' ? CARD.cleared(FIELD_SHORT[field]) : CARD.changed(FIELD_SHORT[field], words);
  });
  const others = (['setting', 'outcome'] as const)
    .filter((field) => field in change)
    .map((field) =>
      change[field] === null ? CARD.cleared(CARD.other[field]) : CARD.changed(CARD.other[field], CARD.written),
    );
  return [...typed, ...others].join(CARD.and);
}

/** Empty where nothing is said. */
function valueWords(field: TypedField, card: Partial<Card>): string {
  const value = card[field];
  if (value === null || value === undefined) return '';
  switch (field) {
    case 'kg':
      return CARD.kg(marked(String(value)));
    case 'roomHumidity':
      return CARD.percent(marked(String(value)));
    case 'roomC':
      return measured(Number(value));
    case 'tags':
      return (value as Card['tags']).join(', ');
    default:
      return String(value);
  }
}
