/**
 * Why a serial port could not be opened, in plain words: the cause, and one thing to do about it.
 * Knows the operating systems' phrases, and nothing of ports themselves.
 */

type KnownKind =
  'not-there' | 'busy' | 'not-allowed' | 'not-a-serial-port' | 'bad-speed' | 'not-answering' | 'too-many-open';

export type TroubleKind = KnownKind | 'unknown';

export interface Trouble {
  readonly kind: TroubleKind;
  /** One sentence. */
  readonly cause: string;
  /** One sentence: what the person can do. */
  readonly action: string;
}

/**
 * What the library says is the system's phrase for the error (its number is lost), on Windows the library's own.
 * The first row that fits wins; codes stand beside phrases for errors that come from elsewhere.
 */
const PHRASES: readonly (readonly [RegExp, KnownKind])[] = [
  [/lock port|resource busy|resource temporarily unavailable|EBUSY|EAGAIN|EWOULDBLOCK/i, 'busy'],
  [/permission denied|operation not permitted|EACCES|EPERM/i, 'not-allowed'],
  [/access (is )?denied/i, 'busy'],
  [/no such file|no such device|file not found|device not configured|ENOENT|ENODEV|ENXIO/i, 'not-there'],
  [/baud rate of \d+ is not supported|invalid argument|parameter is incorrect|EINVAL/i, 'bad-speed'],
  [/inappropriate ioctl|not a typewriter|is a directory|not a directory|ENOTTY|EISDIR|ENOTDIR/i, 'not-a-serial-port'],
  [/input\/output error|i\/o error|operation aborted|error code (31|1167)\b|timed out|EIO|ETIMEDOUT/i, 'not-answering'],
  [/too many open files|EMFILE|ENFILE/i, 'too-many-open'],
];

const WORDS: Readonly<Record<KnownKind, (path: string) => Omit<Trouble, 'kind'>>> = {
  'not-there': (path) => ({
    cause: `There is no device at ${path}.`,
    action: 'Plug the thermometer in; if it is plugged in, try another cable: some only charge.',
  }),
  busy: (path) => ({
    cause: `Another program is using ${path}.`,
    action: 'Close that program (a terminal, an editor’s serial monitor, another Bowlside).',
  }),
  'not-allowed': (path) => ({
    cause: `This account may not open ${path}.`,
    action: 'Add it to the group that owns the port (dialout, on some systems uucp), then log out and in again.',
  }),
  'not-a-serial-port': (path) => ({
    cause: `${path} is not a serial port.`,
    action: 'Run `bowlside ports` to see the ones that are.',
  }),
  'bad-speed': (path) => ({
    cause: `${path} cannot run at that speed.`,
    action: 'Give the speed from the thermometer’s leaflet with --baud; 9600 and 115200 are the usual ones.',
  }),
  'not-answering': (path) => ({
    cause: `The device at ${path} does not answer.`,
    action: 'Pull it out, wait a moment and plug it in again.',
  }),
  'too-many-open': () => ({
    cause: 'The system has no room for another open file.',
    action: 'Close other programs, or start Bowlside again.',
  }),
};

/** Never only a code: what is not known is passed on inside a sentence. `message`: the library's or system's words. */
export function explainTrouble(message: string, path: string): Trouble {
  const kind = PHRASES.find(([phrase]) => phrase.test(message))?.[1];
  if (kind !== undefined) return { kind, ...WORDS[kind](path) };
  return {
    kind: 'unknown',
    cause: `${path} could not be opened; the system says “${message}”.`,
    action: 'Pull the thermometer out and plug it in again.',
  };
}
