/** The words typed after a command, held against the options it has: their values, or what is wrong in one line. Knows what none of them means. */
import { parseArgs } from 'node:util';

/** By name, without the two dashes. */
export type Options = Readonly<Record<string, { readonly type: 'string' | 'boolean' }>>;

/** What was given, each of its own type. */
export type Values<O extends Options> = {
  readonly [Name in keyof O]?: O[Name]['type'] extends 'string' ? string : boolean;
};

export type Typed<O extends Options> =
  | {
      readonly ok: true;
      readonly values: Values<O>;
      /** What stands there besides options. */
      readonly words: readonly string[];
    }
  | { readonly ok: false; readonly complaint: string };

/** `command`: whose options they are. Never throws. */
export function readTyped<O extends Options>(command: string, argv: readonly string[], options: O): Typed<O> {
  const { values, positionals, tokens } = parseArgs({
    args: [...argv],
    options,
    strict: false,
    allowPositionals: true,
    tokens: true,
  });
  const given = tokens.filter((token) => token.kind === 'option');
  const unknown = given.find(({ name }) => !Object.hasOwn(options, name));
  if (unknown !== undefined) return { ok: false, complaint: unknownWords(command, argv[unknown.index]!, options) };
  const complaint = given.map((each) => valueComplaint(each, options)).find((words) => words !== null);
  if (complaint !== undefined) return { ok: false, complaint };
  const twice = repeated(given);
  if (twice !== null) return { ok: false, complaint: twice };
  // None has a value of another type: that was just looked at.
  return { ok: true, values: values as Values<O>, words: positionals };
}

interface Given {
  readonly name: string;
  /** Absent where nothing follows it, or it takes none. */
  readonly value?: string | undefined;
  /** After an equals sign. */
  readonly inlineValue?: boolean | undefined;
}

function unknownWords(command: string, word: string, options: Options): string {
  const name = word.replace(/^-+|=.*$/gs, '');
  const near = Object.keys(options).find((known) => isSlip(name, known));
  const way = near === undefined ? `npx bowlside ${command} --help lists those there are` : `is --${near} meant?`;
  return `there is no option ${word.replace(/=.*$/s, '')}; ${way}`;
}

/** One letter too many, missing or wrong, or two that changed places. */
function isSlip(typed: string, meant: string): boolean {
  let start = 0;
  while (start < typed.length && typed[start] === meant[start]) start += 1;
  let [a, b] = [typed.slice(start), meant.slice(start)];
  while (a !== '' && a.at(-1) === b.at(-1)) [a, b] = [a.slice(0, -1), b.slice(0, -1)];
  return (a.length <= 1 && b.length <= 1) || (a.length === 2 && a === `${b[1]}${b[0]}`);
}

/** A negative number is a value, for whoever knows its bounds to refuse; of any other word with a dash it can't be told. */
function valueComplaint({ name, value, inlineValue }: Given, options: Options): string | null {
  if (options[name]!.type === 'boolean') return value === undefined ? null : `--${name}=${value}: it takes no value`;
  if (value === undefined) return `--${name}: a value is wanted after it`;
  if (inlineValue || !/^-[^\d.]/.test(value)) return null;
  return `--${name} ${value}: a value is wanted; one that begins with - is written --${name}=${value}`;
}

/** Of two ports the last would be read, and nothing said of the first. */
function repeated(given: readonly Given[]): string | null {
  const before = new Map<string, string>();
  for (const { name, value } of given) {
    if (value === undefined) continue;
    const other = before.get(name);
    if (other !== undefined) return `--${name} ${value}: it may be given once only, and ${other} stands before it`;
    before.set(name, value);
  }
  return null;
}
