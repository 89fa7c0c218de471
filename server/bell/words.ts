/** What the host says of an alarm, in one line that stands for itself: on a loudspeaker, in a message, on a lamp with a display. */
import type { AlarmName } from '../core/record/event.ts';

const WORDS: Readonly<Record<AlarmName, string>> = {
  'temper-lost': 'Temper lost. Stop dipping.',
  scorch: 'Over the scorch ceiling. Off the heat, and stir hard.',
  overshoot: 'Over the ceiling. Off the heat, and stir.',
  'scorch-ahead': 'Soon over the scorch ceiling. Off the heat now.',
  'overshoot-ahead': 'Soon over the ceiling. Off the heat now.',
  undershoot: 'Under the floor. Warm the bowl for ten seconds.',
  'undershoot-ahead': 'Soon under the floor. Out of the cold.',
  'not-cooled-enough': 'Not cooled enough. Cool it again.',
  'probe-silent': 'No reading. Watch the bowl by eye, and check the plug.',
  'probe-lifted': 'The probe is out of the bowl. Put it back.',
  'below-working': 'Below the working floor. Warm it gently.',
};

/** With its limit where it has one. */
export function bellWords({ alarm, limitC }: { readonly alarm: AlarmName; readonly limitC: number | null }): string {
  return limitC === null
    ? WORDS[alarm]
    : WORDS[alarm].replace(/(the (?:\w+ )?)(ceiling|floor)/, `$1$2 of ${limitC} °C`);
}

export function carefulWords(limitC: number): string {
  return `Over ${limitC} °C, and nobody has said which chocolate it is. Off the heat now.`;
}
