/**
 * What is said of a port that is open, or could be: a cause in its first sentence, and what to do in the rest. Those of a port that can't
 * be opened are in `port-trouble.ts`.
 */
import { explainTrouble } from './port-trouble.ts';
import type { GroupOf } from './port-group.ts';
import type { OthersAt } from './others.ts';

/** As the library put it, with what the system tells besides. */
export async function whyNotOpen(
  message: string,
  path: string,
  { othersAt, groupOf }: { readonly othersAt: OthersAt; readonly groupOf: GroupOf },
): Promise<string> {
  const { platform } = process;
  const { kind } = explainTrouble(message, path, { platform });
  const group = kind === 'not-allowed' ? await groupOf(path) : null;
  const others = kind === 'busy' ? await othersAt(path) : [];
  const { cause, action } = explainTrouble(message, path, { platform, group, others });
  return `${cause} ${action}`;
}

export const UNPLUGGED = 'The thermometer was unplugged, or its cable is loose.';

/** `isOne`: one alone of the kind, in another socket; else several. */
export function whichOfItsKind(isOne: boolean): string {
  return isOne
    ? 'A thermometer of this kind is in another USB socket. Is it yours? Choose it under “Thermometer” on the page, or plug it in where it was.'
    : 'Several thermometers of this kind are plugged in. Choose one under “Thermometer” on the page, or leave one plugged in.';
}

export function silentFor(quietMs: number, others: readonly string[]): string {
  const seconds = Math.round(quietMs / 1000);
  const cause = `Nothing has come from the thermometer for ${seconds} s.`;
  return others.length > 0
    ? `${cause} ${readToo(others)}`
    : `${cause} Is it switched on, and does no other program read its port?`;
}

export function silentSinceOpened(label: string, others: readonly string[]): string {
  const cause = `${label} is open, but says nothing.`;
  return others.length > 0
    ? `${cause} ${readToo(others)} Or it speaks only when asked: choose its question under “Thermometer” on the page.`
    : `${cause} Is it switched on? If it speaks only when asked, choose its question under “Thermometer” on the page. Else another program may be reading its port: close it.`;
}

export function tornLines(others: readonly string[]): string {
  const cause = 'Its lines come torn.';
  return others.length > 0
    ? `${cause} ${readToo(others)}`
    : `${cause} Another program may be reading this thermometer: close it.`;
}

function readToo(others: readonly string[]): string {
  return `Another program may be reading it: ${others.join(', ')}. Close it.`;
}

export function tryingSpeed(baud: number): string {
  return `What comes is no text at the speed tried. Trying ${baud} baud.`;
}

export function speedUnsure(baud: number): string {
  return `What comes is no text at any usual speed. Give the speed from its leaflet with --baud; ${baud} is used until then.`;
}

export function askingAt(query: string, baud: number): string {
  return `No answer to “${query}” so far. Asking at ${baud} baud.`;
}

export function unanswered(query: string): string {
  return `It does not answer to “${query}”. Try another question or another line end, as its leaflet says.`;
}
