/** Our own source files as syntax trees: what each imports and which names it uses. Knows no rule about them. */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { parseAst } from 'vite';

const ROOT = resolve(import.meta.dirname, '..', '..');

export interface Import {
  /** Path from the repository's root for our own files, the package's name for others: `server/core/engine.ts`, `node:fs`, `ws`. */
  readonly target: string;
  readonly own: boolean;
  /** Gone at run time. */
  readonly typeOnly: boolean;
}

export interface SourceFile {
  /** From the repository's root, with forward slashes. */
  readonly path: string;
  readonly text: string;
  readonly imports: readonly Import[];
  /** Every name that refers to something (no keys, no members, no types), members as `Math.random`. */
  readonly names: ReadonlySet<string>;
  /** Every text in the code, template pieces included. */
  readonly texts: readonly string[];
}

/** All TypeScript files under a folder of the repository, declarations and build configuration left out. */
export function sourcesUnder(folder: string): SourceFile[] {
  return readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name) && !name.endsWith('.d.ts') && !name.endsWith('vite.config.ts'))
    .map((name) => read(join(ROOT, folder, name)));
}

interface Node {
  readonly type: string;
  readonly [key: string]: unknown;
}

function read(file: string): SourceFile {
  const text = readFileSync(file, 'utf8');
  const tree = parseAst(text, { lang: file.endsWith('x') ? 'tsx' : 'ts' }, file) as unknown as Node;
  const imports: Import[] = [];
  const names = new Set<string>();
  const texts: string[] = [];
  walk(tree, (node, parent, key) => {
    const from = importedFrom(node);
    if (from !== null) imports.push({ ...place(file, from), typeOnly: isTypeOnly(node) });
    if (node.type === 'Identifier' && refers(parent, key)) names.add(String(node['name']));
    if (node.type === 'MemberExpression') names.add(`${nameOf(node['object'])}.${nameOf(node['property'])}`);
    if (node.type === 'Literal' && typeof node['value'] === 'string') texts.push(node['value']);
    if (node.type === 'TemplateElement') texts.push(String((node['value'] as { raw: string }).raw));
  });
  return { path: fromRoot(file), text, imports, names, texts };
}

function walk(node: Node, visit: (node: Node, parent: Node, key: string) => void, parent = node, key = ''): void {
  visit(node, parent, key);
  for (const [name, value] of Object.entries(node)) {
    for (const child of Array.isArray(value) ? (value as unknown[]) : [value]) {
      if (isNode(child)) walk(child, visit, node, name);
    }
  }
}

function isNode(value: unknown): value is Node {
  return typeof value === 'object' && value !== null && 'type' in value && typeof value.type === 'string';
}

function importedFrom(node: Node): string | null {
  const isImport = /^(?:Import|ExportNamed|ExportAll)(?:Declaration|Expression)$/.test(node.type);
  const source = isImport ? node['source'] : null;
  return isNode(source) && typeof source['value'] === 'string' ? source['value'] : null;
}

/** `import { type A }` still loads its file at run time; `import type { A }` does not. */
function isTypeOnly(node: Node): boolean {
  return node['importKind'] === 'type' || node['exportKind'] === 'type';
}

function place(file: string, from: string): { target: string; own: boolean } {
  if (from.startsWith('.')) return { target: fromRoot(resolve(dirname(file), from)), own: true };
  const parts = from.split('/');
  return { target: from.startsWith('@') ? parts.slice(0, 2).join('/') : parts[0]!, own: false };
}

function refers(parent: Node, key: string): boolean {
  if (parent.type.startsWith('TS')) return false;
  if (parent.type === 'MemberExpression' && key === 'property') return parent['computed'] === true;
  return !(['Property', 'PropertyDefinition', 'MethodDefinition'].includes(parent.type) && key === 'key');
}

function nameOf(node: unknown): string {
  return isNode(node) && node.type === 'Identifier' ? String(node['name']) : '';
}

function fromRoot(file: string): string {
  return relative(ROOT, file).replaceAll('\\', '/');
}
