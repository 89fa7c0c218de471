/** No page, control or map says anything of its own: what a person sees or hears comes from web/words, where a language is chosen. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseSync } from 'vite';
import { describe, expect, test } from 'vitest';

const WEB = join(import.meta.dirname, '../../web');
const ALL = readdirSync(WEB, { recursive: true, encoding: 'utf8' }).toSorted();
const FILES = ALL.filter((name) => name.endsWith('.tsx'));
/** What stands behind pages and controls, the map, and the catalogues themselves; how they are built is no part of the page. */
const BEHIND = ALL.filter((name) => name.endsWith('.ts') && !/^words[/\\]en[/\\]|^vite\.config/.test(name));

type Node = Readonly<Record<string, unknown>>;

/** Attributes for the machine alone: styles, shapes, roles, addresses. */
const MACHINE =
  /^(class|d|viewBox|transform|preserveAspectRatio|role|href|type|id|key|for|aria-(?:hidden|live|haspopup|labelledby))$/;
/** Attributes whose text is read out or shown. */
const SPOKEN = new Set(['aria-label', 'aria-description', 'title', 'alt', 'label', 'placeholder']);
/** Between the tags and in spoken attributes any word is one too many; elsewhere it has to look like something said. */
const WORD = /\p{L}{2}/u;
const SAID = /\p{L} \p{L}|^\p{Lu}\p{Ll}+[.?!]?$/u;
/** Which one it is, is the viewer's to say. */
const UNIT = /°[CF]/;
/** What keys are called by the browser. */
const KEY_NAMES = new Set('Escape Enter Tab Shift Control Alt Meta Dead Unidentified'.split(' '));
/** Faces by name, and the unit of their size. */
const FACES = /^"[\w ]+ Variable",|^px $/;
/** Parts of a sentence, as they stand around a figure: " min", "Look in ". */
const PART = /^ \p{L}+|\p{L} $/u;

/** Every text in the source that a person would see or hear, in the order it stands there. */
function literalsIn(source: string): string[] {
  const { program, errors } = parseSync('page.tsx', source);
  if (errors.length > 0) throw new Error(`not to be parsed: ${errors[0]!.message}`);
  const found: string[] = [];
  walk(program as unknown as Node, false, found);
  return found;
}

/** Every text behind the pages that is said in one language only: outside of what `inLanguage` chooses from. */
function unchosenIn(source: string): string[] {
  const { program, errors } = parseSync('words.ts', source);
  if (errors.length > 0) throw new Error(`not to be parsed: ${errors[0]!.message}`);
  const found: string[] = [];
  seek(program as unknown as Node, found);
  return found;
}

function seek(node: Node, found: string[]): void {
  const type = String(node['type']);
  if (isOfTheMachine(type) || isNotShown(node)) return;
  const text = textOf(node);
  const isName = text !== null && (KEY_NAMES.has(text) || FACES.test(text));
  if (text !== null && !isName && (SAID.test(text) || PART.test(text))) found.push(text);
  for (const child of Object.values(node).flat()) if (isNode(child)) seek(child, found);
}

/** Chosen by language, or told to the browser's own log. */
function isNotShown(node: Node): boolean {
  if (node['type'] !== 'CallExpression') return false;
  const callee = node['callee'] as Node;
  const object = callee['object'] as Node | undefined;
  return callee['name'] === 'inLanguage' || object?.['name'] === 'console';
}

function isOfTheMachine(type: string): boolean {
  return (type.startsWith('TS') && type.endsWith('Type')) || /^(Import|Export.*From|ExportAll)/.test(type);
}

function walk(node: Node, isShown: boolean, found: string[]): void {
  const type = String(node['type']);
  if (isOfTheMachine(type)) return;
  const text = textOf(node);
  const isSaid = (said: string): boolean => (isShown || type === 'JSXText' ? WORD : SAID).test(said) || UNIT.test(said);
  if (text !== null && !KEY_NAMES.has(text) && isSaid(text)) found.push(text);
  const attribute = type === 'JSXAttribute' ? String((node['name'] as Node)['name']) : null;
  if (attribute !== null && MACHINE.test(attribute)) return;
  const shows = isShown || (attribute !== null && SPOKEN.has(attribute));
  for (const child of Object.values(node).flat()) {
    if (isNode(child)) walk(child, shows, found);
  }
}

function textOf(node: Node): string | null {
  if (node['type'] === 'JSXText') return String(node['value']).trim();
  if (node['type'] === 'Literal' && typeof node['value'] === 'string') return node['value'];
  if (node['type'] === 'TemplateElement') return String((node['value'] as Node)['cooked']);
  return null;
}

function isNode(value: unknown): value is Node {
  return typeof value === 'object' && value !== null && 'type' in value;
}

describe('literals', () => {
  test.each(FILES)('%s says nothing of its own', (file) => {
    expect(literalsIn(readFileSync(join(WEB, file), 'utf8'))).toEqual([]);
  });

  test.each(BEHIND)('%s says nothing that is not chosen by language', (file) => {
    expect(unchosenIn(readFileSync(join(WEB, file), 'utf8'))).toEqual([]);
  });

  test.each([
    ['const span = (s: number) => `${s} min`;', [' min']],
    ["const said = 'Look in ' + when;", ['Look in ']],
    ["const said = { act: 'Stir it.' };", ['Stir it.']],
    ["const WORDS = inLanguage({ en: { act: 'Stir it.', span: (s: number) => `${s} min` } });", []],
    ["console.warn(`heard nothing of ${it}`); type Look = 'Light' | 'Dark'; key('Enter'); el('div', 'a.b');", []],
  ])('behind the pages %s gives %j', (source, said) => {
    expect(unchosenIn(source)).toEqual(said);
  });

  test.each([
    ['<p>stir</p>', ['stir']],
    ['<p>{valueC} °C</p>', ['°C']],
    ['const words = `${bands} °C`;', [' °C']],
    ['<p aria-label="bowl" />', ['bowl']],
    ['<p aria-label={`bowl ${1}`} />', ['bowl ']],
    ["<p>{isOn ? 'Stop' : 'Play'}</p>", ['Stop', 'Play']],
    ["<p>{'the bowl'}</p>", ['the bowl']],
    ["const said = { act: 'Stir it.' };", ['Stir it.']],
  ])('%s is found', (source, said) => {
    expect(literalsIn(source)).toEqual(said);
  });

  test.each([
    '<p class="run run-lost" role="status">{WORDS.stir}</p>',
    '<svg viewBox="0 0 24 24"><path d="M4 12h15" /></svg>',
    "if (event.key === 'Escape') close();",
    "import { a } from 'the bowl';",
    "type Look = 'Light' | 'Dark';",
    '<p>{value}{unit}, 4 %</p>',
  ])('%s is let through', (source) => {
    expect(literalsIn(source)).toEqual([]);
  });
});
