/**
 * What a line gives while it is not sure yet how the device writes. A bowl must not wait five lines for a number that stands alone, so
 * what means one thing by itself is read at once. Anything else is held.
 */
import { type LineReading, refused, whyNoTemperature } from './channel.ts';
import type { Row } from './columns.ts';
import { isEnough } from './comma-window.ts';
import { type Entry, keysOf, readingBy, saidOf, whatsAlone } from './entry.ts';
import { apartOf, BARE_SHAPE, type Judged, shapeHeard } from './lock.ts';
import type { SaidOfLines } from './recognition.ts';
import { isJump, type Sample } from './series.ts';
import type { HeardLine } from './heard.ts';
import { isPlainLabel } from './words.ts';

/** Two numbers this close together that lie apart are two things, ms. Ours. */
const AT_ONCE_MS = 300;

/** The reading of the newest of the lines heard, which locked no format. */
export function meanwhile(heard: readonly HeardLine[], found: Judged, said: SaidOfLines): LineReading {
  const line = heard.at(-1)!;
  const apart = apartOf(line, found.decimalComma ?? null);
  if (!apart.ok) return refused(apart.reason);
  const reading = readingBy(apart.entries, whatsAlone(apart.entries), null, said.roles);
  if (reading === null) return refused(whyNoTemperature(line.text));
  if (found.asksComma) return refused('ambiguous');
  if (!isClear(heard, apart.entries, found)) return refused('unsure');
  return reading.ok ? { ...reading, places: placesHeard(heard, found, said) } : reading;
}

/** The places of all that was clear so far: a second probe on a line of its own does not stand in for the first. */
function placesHeard(heard: readonly HeardLine[], found: Judged, { roles }: SaidOfLines): readonly string[] {
  const all = new Set<string>();
  const newest = heard.at(-1);
  for (const line of heard) {
    const apart = apartOf(line, found.decimalComma ?? null);
    if (!apart.ok) continue;
    const { entries } = apart;
    if (line !== newest && !entries.every((entry) => isClearValue(entry, entries))) continue;
    for (const key of keysOf(entries, whatsAlone(entries), roles, true).places) all.add(key);
  }
  return [...all];
}

function isClear(heard: readonly HeardLine[], entries: readonly Entry[], found: Judged): boolean {
  // Such a line is read at all because a person said so: no while of them shows more.
  if (entries.every((entry) => saidOf(entry, entries) === 'other')) return true;
  const shape = shapeHeard(entries);
  const like = shapedLike(shape, heard, found);
  if (isEnough(like)) return false;
  if (shape === BARE_SHAPE && entries[0]!.scale === null) {
    return (
      found.decimalComma !== undefined &&
      isClearNumber(like.map(({ atMs, entries: [entry] }) => sampleOf(atMs, entry!)))
    );
  }
  return !isSecond(entries) && entries.every((entry) => isClearValue(entry, entries));
}

/** With every line all those before it are looked at once more: loops, not lists of lists. */
function shapedLike(shape: string, heard: readonly HeardLine[], { decimalComma = null }: Judged): readonly Row[] {
  const like: Row[] = [];
  for (const line of heard) {
    const apart = apartOf(line, decimalComma);
    if (apart.ok && shapeHeard(apart.entries) === shape) like.push({ atMs: line.atMs, entries: apart.entries });
  }
  return like;
}

function sampleOf(atMs: number, { value, decimals }: Entry): Sample {
  return { atMs, value: value ?? NaN, decimals };
}

/**
 * Decimals are a temperature until something speaks against it. Whole numbers are, once they have stood still or turned: a counter does
 * neither. One that lies apart from the one just before, or from every other one, is of another thing that takes turns with it.
 */
function isClearNumber(samples: readonly Sample[]): boolean {
  const [newest, before, earlier] = samples.toReversed();
  if (newest!.decimals === 0 && isMarching(samples)) return false;
  if (before === undefined || !isJump(before, newest!)) return true;
  if (newest!.atMs - before.atMs < AT_ONCE_MS) return false;
  return earlier === undefined || isJump(earlier, newest!) || !isJump(earlier, before);
}

function isMarching(samples: readonly Sample[]): boolean {
  const steps = samples.slice(1).map(({ value }, at) => Math.sign(value - samples[at]!.value));
  return steps.every((step) => step !== 0 && step === steps[0]);
}

/** `T2` on a line of its own: `T1` is still to come. */
function isSecond(entries: readonly Entry[]): boolean {
  return entries.length === 1 && /[^\d](?:[2-9]|\d\d+)$/.test(entries[0]!.label);
}

/** Its words and its unit say what it is, and nothing else. A small `t` may be the time. */
function isClearValue(entry: Entry, entries: readonly Entry[]): boolean {
  const said = saidOf(entry, entries);
  if (said === 'temperature') return entry.label !== 't' && isPlainLabel(entry.label);
  return said === 'other';
}
