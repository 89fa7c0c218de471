/**
 * What a fake thermometer does, as plain data and as one line of text for a bug report: how it speaks, and which switches are on when.
 * The same script with the same seed gives the same bytes at the same moments on every machine. Knows no port and no clock.
 */

/** All that can be wrong with it, and what each switch does while it is on. `fixtures/README.md` says the same. */
export const SWITCHES = {
  unplug: 'the cable is out; it is back in the same socket, under the same path, when the switch is off',
  'unplug-in-read': 'the same, in the middle of a read, which the serial library does not notice',
  elsewhere: 'the same, and it is back in another socket, under another path',
  rename: 'the same, and it is back in the same socket under another path',
  clones: 'a second thermometer of the same make is plugged in beside it and speaks of another bowl',
  busy: 'unplugged for a moment; another program holds the port when it is back',
  denied: 'unplugged for a moment; this account may not open the port when it is back',
  mute: 'says nothing',
  drip: 'a line comes a byte at a time, spread over the whole pause',
  burst: 'lines are held back, and come all at once when the switch is off',
  torn: 'of every third line the end is lost, with its line end',
  doubled: 'every line comes twice',
  endless: 'digits without a line end, without a pause',
  cr: 'lines end in CR',
  lf: 'lines end in LF',
  lfcr: 'lines end in LF CR',
  nul: 'NUL bytes stand between the characters',
  ff: '0xFF bytes stand between the characters',
  speed: 'runs at another speed: noise in the place of every byte, but for whoever listens at that one',
  banner: 'says what it is, in four lines of its own, once',
  reset: 'stops in the middle of a line, noise of power coming up, its banner, a second of silence, and 85.00 first',
  format: 'writes a label before the value and the unit after it',
  appear: 'a second channel stands after the value',
  vanish: 'its own value is gone from the line, and the second channel stands alone',
  unit: 'writes °F, and says so',
  'unit-unsaid': 'writes °F, and does not say so',
  comma: 'writes a decimal comma',
  sentinel: 'says what stands for a missing probe',
  stuck: 'repeats the value it had',
  spike: 'one line is far off, once',
  drift: 'goes off by so many degrees over the time the switch is on, and stays there',
  theft: 'another program reads the same port: one byte in eight goes there',
} as const;
export type SwitchName = keyof typeof SWITCHES;

export interface SwitchOn {
  readonly what: SwitchName;
  readonly fromMs: number;
  readonly forMs: number;
  /** Degrees for `spike` and `drift`, the value for `sentinel`, baud for `speed`; null: the usual one. */
  readonly amount: number | null;
}

export interface Script {
  readonly seed: number;
  /** From one line to the next, ms. */
  readonly everyMs: number;
  readonly forMs: number;
  /** Where the bowl stands, °C; it goes up and down by a third of a degree around it. */
  readonly bowlC: number;
  readonly switches: readonly SwitchOn[];
}

export const PLAIN: Script = { seed: 1, everyMs: 500, forMs: 60_000, bowlC: 31.5, switches: [] };

export type ReadScript =
  { readonly ok: true; readonly script: Script } | { readonly ok: false; readonly complaint: string };

const NUMBERS = ['seed', 'every', 'for', 'bowl'] as const;

/**
 * `seed=7 every=0.5 for=60 bowl=31.5 unplug@10+5 spike@20=25`: times in seconds, degrees in °C; a switch is on from `@` for `+` seconds
 * (absent: to the end), with `=` its amount.
 */
export function readScript(text: string): ReadScript {
  let script = PLAIN;
  for (const word of text.split(/\s+/).filter((each) => each !== '')) {
    const next = withNumber(script, word) ?? withSwitch(script, word);
    if (next === null) return { ok: false, complaint: complaintOf(word) };
    script = next;
  }
  return { ok: true, script };
}

/** `readScript` gives the same script back. */
export function writtenScript({ seed, everyMs, forMs, bowlC, switches }: Script): string {
  const ends = switches.map(({ what, fromMs, forMs: lastsMs, amount }) => {
    const lasts = lastsMs === Infinity ? '' : `+${lastsMs / 1000}`;
    return `${what}@${fromMs / 1000}${lasts}${amount === null ? '' : `=${amount}`}`;
  });
  return [`seed=${seed}`, `every=${everyMs / 1000}`, `for=${forMs / 1000}`, `bowl=${bowlC}`, ...ends].join(' ');
}

/** The switch of this name that is on at a moment, ms of the script. */
export function onAt({ switches }: Script, what: SwitchName, atMs: number): SwitchOn | undefined {
  return switches.find((each) => each.what === what && each.fromMs <= atMs && atMs < each.fromMs + each.forMs);
}

function withNumber(script: Script, word: string): Script | null {
  const found = /^(\w+)=(\d+(?:\.\d+)?)$/.exec(word);
  const value = Number(found?.[2]);
  switch (found?.[1]) {
    case 'seed':
      return { ...script, seed: value };
    case 'every':
      return value > 0 ? { ...script, everyMs: value * 1000 } : null;
    case 'for':
      return { ...script, forMs: value * 1000 };
    case 'bowl':
      return { ...script, bowlC: value };
    default:
      return null;
  }
}

function withSwitch(script: Script, word: string): Script | null {
  const found = /^([a-z-]+)@(\d+(?:\.\d+)?)(?:\+(\d+(?:\.\d+)?))?(?:=(-?\d+(?:\.\d+)?))?$/.exec(word);
  const name = found?.[1] ?? '';
  if (found === null || !isSwitch(name)) return null;
  const [fromS, forS, amount] = [found[2], found[3], found[4]];
  const on: SwitchOn = {
    what: name,
    fromMs: Number(fromS) * 1000,
    forMs: forS === undefined ? Infinity : Number(forS) * 1000,
    amount: amount === undefined ? null : Number(amount),
  };
  return { ...script, switches: [...script.switches, on] };
}

function isSwitch(name: string): name is SwitchName {
  return name in SWITCHES;
}

function complaintOf(word: string): string {
  const names = Object.keys(SWITCHES).join(', ');
  return `"${word}" is neither ${NUMBERS.join('=, ')}= with a number nor a switch as in unplug@10+5; the switches are ${names}`;
}
