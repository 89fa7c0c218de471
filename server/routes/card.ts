/** The card of a run: what people say of it, as it stands now and how it came to be. */
import { cardChangeShape, cardEntryShape, cardOf, cardShape } from '../core/record/card.ts';
import type { Card, CardEntry } from '../core/record/card.ts';
import { list, object, optional, orNull, type Shape, textUpTo, wallTime } from '../core/record/shape.ts';
import type { Session } from '../session/session.ts';
import type { Store } from '../store/store.ts';
import { toldOnDisk } from '../on-disk.ts';
import { json, type Route } from './route.ts';
import { ofRun } from './runs.ts';

export interface CardNeeds {
  readonly sessions: ReadonlyMap<string, Session>;
  readonly store: Store;
  readonly wallNowMs: () => number;
}

/** Longest name of a person, characters (ours). */
const BY_MAX_CHARS = 80;

const changeShape: Shape = object({ change: cardChangeShape, by: optional(orNull(textUpTo(BY_MAX_CHARS))) });

interface NewEntry {
  readonly change: Partial<Card>;
  readonly by?: string | null;
}

/** The card as it stands, every entry it is made of, oldest first, and the clock here as it was answered: all screens count a setting by it. */
const CARD = { json: object({ card: cardShape, entries: list(cardEntryShape), atWall: wallTime }).schema };

export function cardRoutes({ sessions, store, wallNowMs }: CardNeeds): Route[] {
  const wallNow = (): string => new Date(wallNowMs()).toISOString();
  const answerOf = (entries: readonly CardEntry[]) => ({ card: cardOf(entries), entries, atWall: wallNow() });
  return [
    {
      method: 'get',
      path: '/runs/{run}/card',
      does: 'The card of a run, with who changed what and when.',
      gives: CARD,
      answer: ofRun(store, ({ run }) => json(answerOf(store.cardOf(run)))),
    },
    {
      method: 'post',
      path: '/runs/{run}/card',
      does: 'Changes the card of a run: the fields named take the place of what they were, which is kept.',
      refusal: 'Not for a card',
      body: changeShape,
      gives: { ...CARD, status: [200, 201] },
      answer: ofRun(store, async ({ run }, { body }) => {
        const card = store.cardOf(run);
        const entry = entryOf(body as NewEntry, card, wallNow());
        if (entry === null) return json(answerOf(card));
        store.changeCard(run, entry);
        await toldOnDisk({ sessions, store }, run);
        // A disk that takes its time gets the entry later; it holds all the same.
        return json(answerOf(store.cardOf(run)), 201);
      }),
    },
  ];
}

/** Only what is different; null where nothing is. */
function entryOf({ change, by }: NewEntry, entries: readonly CardEntry[], writtenAtWall: string): CardEntry | null {
  const now: Readonly<Record<string, unknown>> = { ...cardOf(entries) };
  const news = Object.entries(change).filter(
    ([field, value]) => cardChangeShape.write({ [field]: value }) !== cardChangeShape.write({ [field]: now[field] }),
  );
  return news.length === 0 ? null : { writtenAtWall, by: by ?? null, change: Object.fromEntries(news) };
}
