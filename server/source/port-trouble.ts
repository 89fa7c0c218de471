/**
 * Why a serial port could not be opened, or why there is none, in plain words: the cause, and the one thing to do about it on this
 * system. Knows the operating systems' phrases, and nothing of ports themselves.
 */

type KnownKind =
  | 'not-there'
  | 'busy'
  | 'not-allowed'
  | 'not-a-serial-port'
  | 'bad-speed'
  | 'not-answering'
  | 'too-many-open'
  | 'no-driver';

export type TroubleKind = KnownKind | 'not-loaded' | 'unknown';

export interface Trouble {
  readonly kind: TroubleKind;
  /** One sentence. */
  readonly cause: string;
  /** One sentence: what the person can do. */
  readonly action: string;
}

/** What is known beside the system's phrase. */
export interface Circumstances {
  readonly platform: NodeJS.Platform;
  /** The group that may open the port; null or absent: not known. */
  readonly group?: string | null;
  /** Programs that have it open, as far as the system tells. */
  readonly others?: readonly string[];
}

/**
 * What the library says is the system's phrase for the error (its number is lost), on Windows the library's own, with the number where
 * it has no phrase (Microsoft, “System Error Codes”). The first row that fits wins; codes stand beside phrases for errors from elsewhere.
 */
const PHRASES: readonly (readonly [RegExp, KnownKind])[] = [
  [/lock port|resource busy|resource temporarily unavailable|text file busy|no locks available/i, 'busy'],
  [/\bE(BUSY|AGAIN|WOULDBLOCK|TXTBSY|NOLCK)\b|error code (32|33|170)\b/, 'busy'],
  [/permission denied|operation not permitted|read-only file system|\bE(ACCES|PERM|ROFS)\b/i, 'not-allowed'],
  [/access (is )?denied/i, 'busy'],
  [
    /no such file|no such device|file not found|device not configured|operation not supported by device|\bE(NOENT|NODEV|NXIO)\b/i,
    'not-there',
  ],
  [/too many levels of symbolic links|file name too long|\bE(LOOP|NAMETOOLONG)\b/i, 'not-there'],
  [/error code (3|15|20|55|123|161|433|1167|1168)\b/, 'not-there'],
  [/inappropriate ioctl|not a typewriter|is a directory|not a directory|operation not supported/i, 'not-a-serial-port'],
  [/\bE(NOTTY|ISDIR|NOTDIR|OPNOTSUPP|NOTSUP)\b|error code (1|50)\b/, 'not-a-serial-port'],
  [/baud rate of \d+ is not supported|invalid argument|parameter is incorrect|\bEINVAL\b/i, 'bad-speed'],
  [/value too large|\bEOVERFLOW\b/i, 'bad-speed'],
  [
    /(input\/output|i\/o|protocol) error|broken pipe|endpoint shutdown|socket shutdown|timed out|operation aborted/i,
    'not-answering',
  ],
  [
    /operation canceled|invalid handle|bad file descriptor|interrupted system call|socket is not connected/i,
    'not-answering',
  ],
  [/\bE(IO|PROTO|PIPE|SHUTDOWN|NOTCONN|TIMEDOUT|REMOTEIO|CANCELED|BADF|INTR)\b/, 'not-answering'],
  [/error code (21|22|31|121|1117|1460|2404)\b/, 'not-answering'],
  [/too many open files|cannot allocate memory|not enough (memory|space)|no space left/i, 'too-many-open'],
  [/\bE(MFILE|NFILE|NOMEM|NOSPC)\b|error code (4|8|14|1450)\b/, 'too-many-open'],
];

const CLOSE_IT = 'Close that program (a terminal, an editor’s serial monitor, another Bowlside).';
const ANOTHER_CABLE = 'Plug the thermometer in; if it is plugged in, try another cable: some only charge.';

const WORDS: Readonly<
  Record<Exclude<KnownKind, 'no-driver'>, (path: string, around: Circumstances) => Omit<Trouble, 'kind'>>
> = {
  'not-there': (path) => ({ cause: `There is no device at ${path}.`, action: ANOTHER_CABLE }),
  busy: (path, { others = [] }) =>
    others.length === 0
      ? { cause: `Another program is using ${path}.`, action: CLOSE_IT }
      : { cause: `Another program is using ${path}: ${others.join(', ')}.`, action: 'Close it.' },
  'not-allowed': (path, around) => ({ cause: `This account may not open ${path}.`, action: allow(path, around) }),
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

function allow(path: string, { platform, group = null }: Circumstances): string {
  if (platform !== 'linux') return `Start Bowlside from an account that may open ${path}.`;
  if (group === 'root' || group === null)
    return 'Add it to the group that owns the port (sudo usermod -aG dialout $USER; on some systems uucp), then log out and in again.';
  return `Add it to the group ${group} (sudo usermod -aG ${group} $USER), then log out and in again.`;
}

/** No USB serial port is there. `driverless`: USB devices that have no driver, where the system shows that. */
export function noPortTrouble(platform: NodeJS.Platform, driverless: readonly string[]): Trouble {
  const [device] = driverless;
  if (device !== undefined)
    return {
      kind: 'no-driver',
      cause: `A USB device has no driver and so no serial port: ${device}.`,
      action: 'If that is the thermometer, install the driver that its maker names, and plug it in again.',
    };
  return { kind: 'not-there', cause: NO_USB_PORT, action: `${ANOTHER_CABLE}${lookForDriver(platform)}` };
}

const NO_USB_PORT = 'No USB serial port is plugged in.';

/** Where the system alone knows of a device without a driver, it says where to look. */
function lookForDriver(platform: NodeJS.Platform): string {
  if (platform === 'win32')
    return ' Where Device Manager shows it with a yellow mark, install the driver that its maker names.';
  if (platform === 'darwin')
    return ' Where System Information shows it under USB all the same, install the driver that its maker names.';
  return '';
}

const NOT_LOADED = 'Bowlside cannot load what it reads ports with: ';

/** What is said in the system's place where the library is missing, or does not fit this system. `message`: its own words, or the loader's. */
export function notLoaded(message: string): string {
  return NOT_LOADED + message.split('\n')[0]!.replace(/\.$/, '');
}

/** Never only a code: what is not known is passed on inside a sentence. `message`: the library's or system's words. */
export function explainTrouble(message: string, path: string, around: Circumstances): Trouble {
  if (message.startsWith(NOT_LOADED))
    return {
      kind: 'not-loaded',
      cause: `${message}.`,
      action: 'Start it again; if that is no help, run npm ci first.',
    };
  const kind = PHRASES.find(([phrase]) => phrase.test(message))?.[1];
  if (kind !== undefined && kind !== 'no-driver') return { kind, ...WORDS[kind](path, around) };
  return {
    kind: 'unknown',
    cause: `${path} could not be opened; the system says “${message}”.`,
    action: 'Pull the thermometer out and plug it in again.',
  };
}
