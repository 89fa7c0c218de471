/** No page or control says anything of its own: what a person sees or hears comes from web/words, where a language is chosen. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseSync } from 'vite';
import { describe, expect, test } from 'vitest';

const WEB = join(import.meta.dirname, '../../web');
const FILES = readdirSync(WEB, { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.tsx'))
  .toSorted();

type Node = Readonly<Record<string, unknown>>;

/** Attributes for the machine alone: styles, shapes, roles, addresses. */
const MACHINE =
  /^(class|d|viewBox|transform|preserveAspectRatio|role|href|type|id|key|for|aria-(?:hidden|live|haspopup|labelledby))$/;
/** Attributes whose text is read out or shown. */
const SPOKEN = new Set(['aria-label', 'aria-description', 'title', 'alt', 'label', 'placeholder']);
/** Between the tags and in spoken attributes any word is one too many; elsewhere it has to look like something said. */
const WORD = /\p{L}{2}/u;
const SAID = /\p{L} \p{L}|^\p{Lu}\p{Ll}+[.?!]?$/u;
/** What keys are called by the browser. */
const KEY_NAMES = new Set(['Escape']);

/** Every text in the source that a person would see or hear, in the order it stands there. */
function literalsIn(source: string): string[] {
  const { program, errors } = parseSync('page.tsx', source);
  if (errors.length > 0) throw new Error(`not to be parsed: ${errors[0]!.message}`);
  const found: string[] = [];
  walk(program as unknown as Node, false, found);
  return found;
}

function walk(node: Node, isShown: boolean, found: string[]): void {
  const type = String(node['type']);
  if (type.startsWith('TS') && type.endsWith('Type')) return;
  if (/^(Import|Export.*From|ExportAll)/.test(type)) return;
  const text = textOf(node);
  if (text !== null && !KEY_NAMES.has(text) && (isShown || type === 'JSXText' ? WORD : SAID).test(text))
    found.push(text);
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

  test.each([
    ['<p>stir</p>', ['stir']],
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
    '<p>{valueC}°C, 4 %</p>',
  ])('%s is let through', (source) => {
    expect(literalsIn(source)).toEqual([]);
  });
});
