/**
 * From a script to what happens at the port, in order: what is plugged in and pulled out, and each piece of bytes with its moment.
 * Pure: the virtual port and the pseudo-terminal play the same list.
 */
import { chance, type Chance } from '../../../server/source/kitchen/chance.ts';
import { onAt, type Script, type SwitchName } from './script.ts';

/** The thermometer itself, and its double. */
export type Device = 'own' | 'clone';

export type Deed = { readonly atMs: number } & (
  | { readonly kind: 'plug'; readonly device: Device; readonly socket: number; readonly path: number }
  | { readonly kind: 'unplug'; readonly device: Device; readonly inRead: boolean }
  /** One character a byte. `clear`: what it is to whoever listens at that speed, where the bytes are noise at any other. */
  | {
      readonly kind: 'say';
      readonly device: Device;
      readonly bytes: string;
      readonly clear?: { readonly baud: number; readonly bytes: string };
    }
  /** Another program takes the port, or lets it go; this account may open it, or may not. */
  | { readonly kind: 'hold' | 'let-go' | 'forbid' | 'allow' }
);

/** What a thermometer of this make says when it comes up. Made up. */
export const BANNER: readonly string[] = ['', 'Kitchen probe 2.1', 'sensors: 1', 'ready, 9600 baud'];
/** What its power-on value is: the converter's own, before the first conversion (field notes). */
const POWER_ON = '85.00';
const USUAL_SENTINEL = -127;
const USUAL_SPIKE_C = 25;
const USUAL_DRIFT_C = 0.6;
/** What it runs at under `speed`, baud. */
const USUAL_OTHER_BAUD = 115_200;
/** The second channel of `appear` and `vanish`: a room. */
const ROOM_C = 21.4;
/** What the double says, °C: a bowl of solid chocolate. */
const CLONE_C = 24;
/** How long it is out where a switch is about what comes after, and how long a board says nothing after it was reset, ms. */
const OUT_MS = 500;
const REBOOT_MS = 1_000;
/** A piece of `endless`, bytes, and how often one comes, ms. */
const ENDLESS_BYTES = 400;
const ENDLESS_EVERY_MS = 50;
const STOLEN_SHARE = 1 / 8;

/** What is in the bowl at a moment of the script, °C. */
export function bowlAt({ bowlC }: Script, atMs: number): number {
  return bowlC + 0.2 * Math.sin(atMs / 9_100) + 0.1 * Math.sin(atMs / 3_700);
}

/** Everything that happens, in the order of time. */
export function deedsOf(script: Script): Deed[] {
  const deeds: Deed[] = [{ atMs: 0, kind: 'plug', device: 'own', socket: 1, path: 0 }];
  deeds.push(...ofCables(script), ...ofLines(script), ...ofNoise(script));
  return deeds.toSorted((a, b) => a.atMs - b.atMs);
}

function ofCables({ switches, forMs }: Script): Deed[] {
  const away = { device: 'own', inRead: false } as const;
  const home = { device: 'own', socket: 1, path: 0 } as const;
  return switches.flatMap(({ what, fromMs, forMs: lastsMs }): Deed[] => {
    const out = { atMs: fromMs, kind: 'unplug', ...away } as const;
    const untilMs = fromMs + lastsMs;
    const back = { atMs: untilMs, kind: 'plug', ...home } as const;
    const soon = { ...back, atMs: fromMs + OUT_MS };
    const lasting: readonly Deed[] = ((): readonly Deed[] => {
      switch (what) {
        case 'unplug':
          return [out, back];
        case 'unplug-in-read':
          return [{ ...out, inRead: true }, back];
        case 'elsewhere':
          return [out, { ...back, socket: 2, path: 1 }];
        case 'rename':
          return [out, { ...back, path: 1 }];
        case 'clones':
          return [
            { atMs: fromMs, kind: 'plug', device: 'clone', socket: 3, path: 2 },
            { atMs: untilMs, kind: 'unplug', device: 'clone', inRead: false },
          ];
        case 'busy':
          return [out, { atMs: soon.atMs, kind: 'hold' }, soon, { atMs: untilMs, kind: 'let-go' }];
        case 'denied':
          return [out, { atMs: soon.atMs, kind: 'forbid' }, soon, { atMs: untilMs, kind: 'allow' }];
        default:
          return [];
      }
    })();
    return lasting.filter(({ atMs }) => atMs <= forMs);
  });
}

/** One line after another, each as the switches that are on at its moment leave it. */
function ofLines(script: Script): Deed[] {
  const deeds: Deed[] = [];
  const noise = chance(script.seed);
  const mischief = chance(script.seed ^ 0x5eed);
  let heldC: number | null = null;
  let last = -1;
  for (let atMs = script.everyMs, n = 0; atMs <= script.forMs; atMs += script.everyMs, n++) {
    const on = (what: SwitchName): boolean => onAt(script, what, atMs) !== undefined;
    const measuredC = bowlAt(script, atMs) + noise.between(-0.02, 0.02);
    heldC = on('stuck') ? (heldC ?? measuredC) : null;
    if (on('clones')) deeds.push({ atMs, kind: 'say', device: 'clone', bytes: `${CLONE_C.toFixed(2)}\r\n` });
    if (on('mute') || on('endless') || isResetting(script, atMs)) continue;
    const valueC = (heldC ?? measuredC) + driftedC(script, atMs) + spikeC(script, last, atMs);
    const line = lineOf(script, atMs, valueC, n);
    const bytes = mangled(line, on, mischief);
    last = atMs;
    const speed = onAt(script, 'speed', atMs);
    if (speed === undefined) deeds.push(...timed(script, atMs, bytes));
    else {
      const clear = { baud: speed.amount ?? USUAL_OTHER_BAUD, bytes: line };
      deeds.push({ atMs, kind: 'say', device: 'own', bytes, clear });
    }
  }
  return deeds;
}

function lineOf(script: Script, atMs: number, valueC: number, n: number): string {
  const on = (what: SwitchName): boolean => onAt(script, what, atMs) !== undefined;
  const end = on('cr') ? '\r' : on('lf') ? '\n' : on('lfcr') ? '\n\r' : '\r\n';
  const line = isFirstAfterReset(script, atMs) ? POWER_ON : said(script, atMs, valueC);
  // The end goes with what is lost, so that two lines run into one.
  if (on('torn') && n % 3 === 0) return line.slice(0, -2);
  return on('doubled') ? `${line}${end}${line}${end}` : `${line}${end}`;
}

function said(script: Script, atMs: number, valueC: number): string {
  const on = (what: SwitchName): boolean => onAt(script, what, atMs) !== undefined;
  const sentinel = onAt(script, 'sentinel', atMs);
  if (sentinel !== undefined) return (sentinel.amount ?? USUAL_SENTINEL).toFixed(2);
  if (on('unit')) return `${(valueC * 1.8 + 32).toFixed(2)} F`;
  if (on('unit-unsaid')) return (valueC * 1.8 + 32).toFixed(2);
  if (on('vanish')) return ROOM_C.toFixed(2);
  const digits = valueC.toFixed(2);
  if (on('comma')) return digits.replace('.', ',');
  if (on('format')) return `T1: ${digits} C`;
  return on('appear') ? `${digits};${ROOM_C.toFixed(2)}` : digits;
}

function mangled(line: string, on: (what: SwitchName) => boolean, mischief: Chance): string {
  const bytes = on('speed') ? Array.from(line, () => noiseByte(mischief)).join('') : line;
  const between = on('nul') ? '\0' : on('ff') ? '\xff' : '';
  const kept = on('theft') ? Array.from(bytes).filter(() => !mischief.happens(STOLEN_SHARE)) : Array.from(bytes);
  return kept.join(between);
}

/** Dripping takes up most of the pause; what is held back comes at the end of its switch. */
function timed(script: Script, atMs: number, bytes: string): Deed[] {
  const say = (bytesNow: string, ms: number): Deed => ({ atMs: ms, kind: 'say', device: 'own', bytes: bytesNow });
  const burst = onAt(script, 'burst', atMs);
  if (burst !== undefined) return [say(bytes, burst.fromMs + burst.forMs)];
  if (onAt(script, 'drip', atMs) === undefined) return [say(bytes, atMs)];
  const pauseMs = (0.8 * script.everyMs) / Math.max(1, bytes.length);
  return Array.from(bytes, (byte, i) => say(byte, atMs + Math.floor(i * pauseMs)));
}

/** What is no line of its own making: banners, resets, and digits that never end. */
function ofNoise(script: Script): Deed[] {
  const luck = chance(script.seed ^ 0xb007);
  return script.switches.flatMap(({ what, fromMs, forMs }): Deed[] => {
    const say = (bytes: string, atMs = fromMs): Deed => ({ atMs, kind: 'say', device: 'own', bytes });
    switch (what) {
      case 'banner':
        return [say(`${BANNER.join('\r\n')}\r\n`)];
      case 'reset':
        return [say(bootNoise(luck)), say(`${BANNER.join('\r\n')}\r\n`, fromMs + REBOOT_MS / 2)];
      case 'endless': {
        const untilMs = Math.min(fromMs + forMs, script.forMs);
        const pieces = Math.ceil((untilMs - fromMs) / ENDLESS_EVERY_MS);
        return Array.from({ length: pieces }, (_, i) =>
          say('31'.repeat(ENDLESS_BYTES / 2), fromMs + i * ENDLESS_EVERY_MS),
        );
      }
      default:
        return [];
    }
  });
}

/** Half a line, then what a line floats through while power comes up: any bytes, line ends among them, and digits. */
export function bootNoise(luck: Chance): string {
  const half = `3${Math.floor(luck.between(0, 10))}.`.slice(0, 1 + Math.floor(luck.between(0, 3)));
  const length = Math.floor(luck.between(0, 120));
  return half + Array.from({ length }, () => (luck.happens(0.3) ? luck.pick(NOISE_LIKE) : noiseByte(luck))).join('');
}

/** What makes noise look like a line. */
const NOISE_LIKE = ['\r\n', '\n', '3', '1', '.', '8', '\0', '\xff', ' '];

function noiseByte(luck: Chance): string {
  return String.fromCharCode(Math.floor(luck.between(0, 256)));
}

function isResetting({ switches }: Script, atMs: number): boolean {
  return switches.some(({ what, fromMs }) => what === 'reset' && atMs >= fromMs && atMs < fromMs + REBOOT_MS);
}

function isFirstAfterReset({ switches, everyMs }: Script, atMs: number): boolean {
  return switches.some(({ what, fromMs }) => {
    const sinceMs = atMs - (fromMs + REBOOT_MS);
    return what === 'reset' && sinceMs >= 0 && sinceMs < everyMs;
  });
}

function driftedC({ switches }: Script, atMs: number): number {
  const drifts = switches.filter(({ what, fromMs }) => what === 'drift' && fromMs <= atMs);
  return drifts.reduce((sum, { fromMs, forMs, amount }) => {
    const share = Math.min(1, (atMs - fromMs) / Math.max(1, forMs));
    return sum + share * (amount ?? USUAL_DRIFT_C);
  }, 0);
}

/** On the first line at or after its moment. */
function spikeC({ switches }: Script, lastMs: number, atMs: number): number {
  const spike = switches.find(({ what, fromMs }) => what === 'spike' && lastMs < fromMs && fromMs <= atMs);
  return spike === undefined ? 0 : (spike.amount ?? USUAL_SPIKE_C);
}
