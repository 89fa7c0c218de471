/** What a bowl is called. */
import type { BowlLabel } from '../../server/core/show/wire.ts';
import { inLanguage } from './language.ts';

const NUMBERED = inLanguage({ en: (number: number) => `Bowl ${number}` });

/** As people call it, else by its place on the bench; the only one by its place, too. */
export function bowlName(bowls: readonly BowlLabel[], bowl: string | null): string {
  const at = bowls.findIndex((each) => each.bowl === bowl);
  return bowls[at]?.name ?? NUMBERED(at + 1);
}

/** null: it has not to be told from others. */
export function nameAmong(bowls: readonly BowlLabel[], bowl: string | null): string | null {
  return bowls.length > 1 ? bowlName(bowls, bowl) : null;
}
