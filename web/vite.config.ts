/** How the page is built into dist/web: what the bowl needs at once, parts that are fetched apart, no third-party asset. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { constants, gzipSync } from 'node:zlib';
import { minify } from 'terser';
import { defineConfig, normalizePath, parseSync, type Plugin, type Rolldown, Visitor } from 'vite';
import { IMPORTED } from './whole-part.ts';
import { LANGUAGES } from './words/language.ts';

const WHOLE_PART = normalizePath(join(import.meta.dirname, 'whole-part.ts'));

/** What the builder brings to fetch parts with is eight times as long as ours: for older browsers, and for scripts fetched ahead. */
const shortFetch: Plugin = {
  name: 'short-fetch',
  enforce: 'pre',
  resolveId: (id) => (id === '\0vite/preload-helper.js' ? WHOLE_PART : null),
  generateBundle: {
    // After the builder has found which styles each part needs.
    order: 'post',
    handler(_, bundle) {
      // A builder that calls its own by another name would bring it again, unseen.
      const pieces = Object.values(bundle).filter((piece) => piece.type === 'chunk');
      if (!pieces.some(({ moduleIds }) => moduleIds.includes(WHOLE_PART)))
        this.error(`${WHOLE_PART} is not in the page: what does the builder fetch parts with?`);
      for (const piece of pieces) {
        piece.code = piece.code.replaceAll(FETCH, '$fetch=>$fetch($1)');
        const found = Array.from(piece.code.matchAll(IMPORTED), ([, path]) => path!.replace('.', 'assets'));
        if (LEFT_OVER.test(piece.code) || piece.imports.some((name) => !found.includes(name)))
          this.error(`${piece.fileName} fetches a part, or imports a piece, in a form that is not known here`);
        if (broughtBy(piece, pieces).has(piece.fileName))
          this.error(`${piece.fileName} imports what imports it: fetched, each would wait for the other`);
      }
    },
  },
};

/** How a part is fetched, and how it must not be any more: ours fetches it as a file before the browser takes it for a script (`whole-part.ts`). */
const FETCH = /\(\)\s*=>\s*import\((["'`][^"'`]+["'`])\)/g;
const LEFT_OVER = /\bimport\(["'`]/;

type Piece = Pick<Rolldown.OutputChunk, 'fileName' | 'imports'>;

/** All that a piece imports, and what that imports. */
function broughtBy({ imports }: Piece, pieces: readonly Piece[]): ReadonlySet<string> {
  const brought = new Set(imports);
  for (const name of brought)
    for (const other of pieces.find(({ fileName }) => fileName === name)?.imports ?? []) brought.add(other);
  return brought;
}

/** What every page at the bowl waits for: all that stands at once, and all that draws the road. */
const WAITED_FOR = /\/web\/(?:main\.tsx|road\/road\.ts)$/;

/** These pieces are thought through by one that looks further ahead than the builder's, which makes them short then. For all it would take too long. */
const thoughtThrough: Plugin = {
  name: 'thought-through',
  renderChunk: {
    order: 'post',
    async handler(code, { moduleIds }) {
      if (!moduleIds.some((id) => WAITED_FOR.test(id))) return null;
      const compress = { passes: 3, pure_getters: true, inline: 1 };
      const thought = await minify(code, { ecma: 2020, module: true, mangle: false, compress });
      return { code: thought.code!, map: null };
    },
  },
};

type Edit = { readonly start: number; readonly end: number; readonly text: string };

/**
 * A page of one language has nothing to choose: a module of words is handed on as it is, and a catalogue is its words. As soon as there are
 * two languages, the page chooses when it is loaded. Ends the build where a choice is left over: it is written in a form that is not known here.
 */
const oneLanguage: Plugin = {
  name: 'one-language',
  enforce: 'pre',
  transform(code, id) {
    const [only, ...others] = LANGUAGES;
    if (others.length > 0) return null;
    if (id.endsWith('/web/words/language.ts')) return code.replace('languageFor(wanted)', `'${only}'`);
    if (!/\/web\/words\/[\w-]+\.ts$/.test(id)) return null;
    const words = withOwnWords(withModule(code, only), id);
    if (/\binLanguage\s*[(<]/.test(words)) this.error(`${id}: the choice of a language is left over`);
    return words;
  },
};

/** `export const { … } = inLanguage({ en })`: these names of the module, here and for whoever imports them. */
function withModule(code: string, only: string): string {
  const [, from] = new RegExp(`import \\* as ${only} from (.*);`).exec(code) ?? [];
  return code.replace(
    /export const (\{[^}]*\}) = inLanguage\(\{\s*\w+,?\s*\}\);/,
    `import $1 from ${from};\nexport $1;`,
  );
}

/** `inLanguage({ en: … })`: what stands there. */
function withOwnWords(code: string, id: string): string {
  const words: Edit[] = [];
  new Visitor({
    CallExpression({ callee, arguments: [each], start, end }) {
      const [first] = each?.type === 'ObjectExpression' ? each.properties : [];
      if (callee.type !== 'Identifier' || callee.name !== 'inLanguage' || first?.type !== 'Property') return;
      words.push({ start, end, text: code.slice(first.value.start, first.value.end) });
    },
  }).visit(parseSync(id, code).program);
  return words.reduceRight((left, { start, end, text }) => `${left.slice(0, start)}(${text})${left.slice(end)}`, code);
}

/** Words, as script, style or drawing; fonts are packed as they come. */
const IS_TEXT = /\.(?:html|js|css|svg|json)$/;
/** Less than this goes out in one packet as it is, bytes (ours: an Ethernet frame less its headers). */
const LEAST_TO_PACK = 1_400;

/** Beside each file the same, packed, for the server to send: packed once, and as well as can be. */
const packed: Plugin = {
  name: 'packed',
  writeBundle({ dir = '' }, bundle) {
    for (const [name, piece] of Object.entries(bundle)) {
      const bytes = Buffer.from(piece.type === 'chunk' ? piece.code : piece.source);
      if (!IS_TEXT.test(name) || bytes.length < LEAST_TO_PACK) continue;
      writeFileSync(join(dir, `${name}.gz`), gzipSync(bytes, { level: constants.Z_BEST_COMPRESSION }));
    }
  },
};

export default defineConfig({
  root: import.meta.dirname,
  base: './',
  plugins: [shortFetch, oneLanguage, thoughtThrough, packed],
  // Views become calls of `h`: shorter than those of the newer form.
  oxc: {
    jsx: { runtime: 'classic', pragma: 'h', pragmaFrag: 'Fragment' },
    jsxInject: "import { h, Fragment } from 'preact';",
  },
  build: {
    outDir: '../dist/web',
    emptyOutDir: true,
    sourcemap: false,
    target: 'es2022',
    assetsInlineLimit: 0,
    modulePreload: false,
    rolldownOptions: {
      // How long ours takes is known.
      checks: { pluginTimings: false },
      // Reading a property does nothing else, neither here nor in the libraries: what nobody uses of them stays out.
      treeshake: { propertyReadSideEffects: false },
      output: {
        codeSplitting: {
          groups: [
            // The charting library by itself: it changes seldom, and what it weighs can be told.
            { name: 'chart', test: /node_modules\/(?:chart\.js|@kurkle)\// },
            // All that stands at once in one piece, however many other parts share some of it: many small ones weigh more.
            { name: 'bowl', test: /\/web\/main\.tsx$/ },
            // And all that draws the road in another.
            { name: 'road', test: /\/web\/road\/road\.ts$/ },
            // What comes in any case is asked for once, and not in forty pieces.
            { name: 'at-hand', test: /\/web\/at-hand\.ts$/ },
          ],
        },
      },
    },
  },
});
