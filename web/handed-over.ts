/** Where Bowlside hands a run over, and in what manner: each an address that a browser opens or saves. */
import { send } from './post.ts';
import type { Answer } from './post.ts';
import { decimalMark, isFahrenheit } from './words/manner.ts';

export type Separator = 'comma' | 'semicolon' | 'tab';

/** Of this viewer: the unit, and the decimal mark of the place. */
function manner(): Readonly<Record<string, string>> {
  return { unit: isFahrenheit() ? 'f' : 'c', decimal: decimalMark() === ',' ? 'comma' : 'point' };
}

function address(run: string, file: string, query: Readonly<Record<string, string>> = {}): string {
  const words = new URLSearchParams(query).toString();
  return `/api/runs/${encodeURIComponent(run)}/${file}${words === '' ? '' : `?${words}`}`;
}

export const sheetAt = (run: string, paper: 'a4' | 'letter'): string =>
  address(run, 'sheet.html', { ...manner(), paper });
export const pictureAt = (run: string): string => address(run, 'curve.svg', manner());
export const pageAt = (run: string): string => address(run, 'page.html', manner());
export const tableAt = (run: string): string => address(run, 'table.csv');
export const traceAt = (run: string): string => address(run, 'trace.jsonl');
export const spreadsheetAt = (run: string, separator: Separator): string =>
  address(run, 'spreadsheet.csv', { ...manner(), separator });

/** The separator that goes with the viewer's decimal mark. */
export function usualSeparator(): Separator {
  return decimalMark() === ',' ? 'semicolon' : 'comma';
}

/** A picture of a long run takes its time; longer than this is never, ms (ours). */
const GIVE_UP_AFTER_MS = 30_000;

export function fetchPicture(run: string): Promise<Answer<string>> {
  return send(pictureAt(run), {}, GIVE_UP_AFTER_MS, (response) => response.text());
}

/** Opens the sheet beside this page and asks for a printer once it is there. False: the browser opens no window. */
export function printSheet(run: string, paper: 'a4' | 'letter'): boolean {
  const sheet = window.open(sheetAt(run, paper), '_blank');
  sheet?.addEventListener('load', () => sheet.print());
  return sheet !== null;
}
