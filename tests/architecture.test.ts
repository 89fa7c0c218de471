/** Who may import whom, what the core may touch, and how files are called: the layout, kept by a test. */
import { readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { type Import, type SourceFile, sourcesUnder } from './support/sources.ts';

const ROOT = join(import.meta.dirname, '..');
const SERVER = sourcesUnder('server');
const CORE = SERVER.filter((file) => file.path.startsWith('server/core/'));
const WEB = sourcesUnder('web');
const ALL = [...SERVER, ...WEB];

/** Names that depend on when, where or on what a program runs. */
const IMPURE =
  /^(?:Date|performance|set(?:Timeout|Interval|Immediate)|clear(?:Timeout|Interval)|queueMicrotask|process|console|Buffer|require|fetch|crypto|globalThis|window|document|navigator|localStorage|Worker|Intl|eval|Math\.random|\w*\.(?:toLocale\w+|localeCompare))$/;

/** `file → target` for every import that breaks the rule. */
function breaches(files: readonly SourceFile[], allowed: (wanted: Import, file: SourceFile) => boolean): string[] {
  return files.flatMap((file) =>
    file.imports.filter((wanted) => !allowed(wanted, file)).map((wanted) => `${file.path} → ${wanted.target}`),
  );
}

test('the files are really read, with their imports', () => {
  expect(CORE.length).toBeGreaterThan(20);
  expect(WEB.length).toBeGreaterThan(5);
  const engine = CORE.find((file) => file.path === 'server/core/engine.ts')!;
  expect(engine.imports).toContainEqual({ target: 'server/core/reading/recognition.ts', own: true, typeOnly: false });
  expect(engine.imports).toContainEqual({ target: 'server/core/record/profile.ts', own: true, typeOnly: true });
  const clock = SERVER.find((file) => file.path === 'server/clock.ts')!;
  expect([...clock.names].filter((name) => IMPURE.test(name)).sort()).toEqual(['Date', 'performance']);
});

describe('the core is pure', () => {
  test('it imports nothing but itself', () => {
    expect(breaches(CORE, ({ own, target }) => own && target.startsWith('server/core/'))).toEqual([]);
  });

  test('it touches no clock, no chance, no machine, no screen and no locale', () => {
    const touched = CORE.flatMap((file) =>
      [...file.names].filter((name) => IMPURE.test(name)).map((name) => `${file.path}: ${name}`),
    );
    expect(touched).toEqual([]);
  });

  test('nothing but the language is there to be touched: its type check knows neither Node nor a browser', () => {
    const { compilerOptions: base } = JSON.parse(readFileSync(join(ROOT, 'tsconfig.json'), 'utf8')) as Config;
    const { compilerOptions: own } = JSON.parse(
      readFileSync(join(ROOT, 'server/core/tsconfig.json'), 'utf8'),
    ) as Config;
    expect({ ...base, ...own }).toMatchObject({ types: [], lib: ['ES2023'] });
  });

  test('it knows no coating by name', () => {
    const coating = /(?:^|[^a-z])(?:dark|milk|white)(?:[^a-z]|$)/i;
    const named = CORE.flatMap((file) =>
      [...file.names, ...file.texts].filter((word) => coating.test(word)).map((word) => `${file.path}: ${word}`),
    );
    expect(named).toEqual([]);
  });
});

interface Config {
  readonly compilerOptions: Readonly<Record<string, unknown>>;
}

describe('who may import whom', () => {
  test('the server imports nothing of the page, of the tests or of the data', () => {
    expect(breaches(SERVER, ({ own, target }) => !own || target.startsWith('server/'))).toEqual([]);
  });

  test('thermometer and store know the core and themselves, of each other at most the types', () => {
    for (const folder of ['source', 'store']) {
      const files = SERVER.filter((file) => file.path.startsWith(`server/${folder}/`));
      expect(files.length).toBeGreaterThan(0);
      const inside = [`server/${folder}/`, 'server/core/'];
      expect(
        breaches(
          files,
          ({ own, target, typeOnly }) => !own || typeOnly || inside.some((place) => target.startsWith(place)),
        ),
      ).toEqual([]);
    }
  });

  test('the page imports of the server only core/show at run time, and types of the core', () => {
    const allowed = ({ own, target, typeOnly }: Import) => {
      if (!own || target.startsWith('web/')) return true;
      return target.startsWith('server/core/show/') || (typeOnly && target.startsWith('server/core/'));
    };
    expect(breaches(WEB, allowed)).toEqual([]);
  });
});

describe('one door for each library', () => {
  const importers = new Map<string, Set<string>>();
  for (const file of ALL) {
    for (const { own, target } of file.imports) {
      if (!own && !target.startsWith('node:'))
        importers.set(target, (importers.get(target) ?? new Set()).add(file.path));
    }
  }

  /** Where the one door stands. Whatever is not here may not be imported at all. */
  const DOORS: Readonly<Record<string, RegExp>> = {
    serialport: /^server\/source\//,
    '@serialport/parser-readline': /^server\/source\//,
    'better-sqlite3': /^server\/store\//,
    ws: /^server\/live\.ts$/,
    express: /^server\/web-app\.ts$/,
    uqr: /^server\/pairing\/picture\.ts$/,
    'chart.js': /^web\/(?:chart\.ts$|road\/)/,
  };
  /** What the page is written in, not a service to it. */
  const EVERYWHERE: Readonly<Record<string, RegExp>> = { preact: /^web\// };

  test.each(Object.entries(DOORS))('%s is imported by exactly one file', (library, place) => {
    const doors = [...(importers.get(library) ?? [])];
    expect(doors).toHaveLength(1);
    expect(doors[0]).toMatch(place);
  });

  test('no other library is imported', () => {
    const known = { ...DOORS, ...EVERYWHERE };
    expect(
      [...importers].filter(([library, files]) => ![...files].every((file) => known[library]?.test(file))),
    ).toEqual([]);
  });

  test('what the server needs while it runs is installed with it', () => {
    const { dependencies } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as { dependencies: object };
    const needed = SERVER.flatMap((file) => file.imports.filter(({ own, typeOnly }) => !own && !typeOnly))
      .map(({ target }) => target)
      .filter((target) => !target.startsWith('node:'));
    expect([...new Set(needed)].filter((target) => !(target in dependencies))).toEqual([]);
  });
});

describe('files', () => {
  const names = ['server', 'web'].flatMap((folder) =>
    readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' }).map(
      (name) => `${folder}/${name.replaceAll('\\', '/')}`,
    ),
  );

  test('none is a drawer for whatever has no place: utils, helpers, common, types, index', () => {
    const drawer = /^(?:utils?|helpers?|common|types?|index|misc|shared)$/;
    const found = names.filter((name) => name !== 'web/index.html' && drawer.test(basename(name).split('.')[0]!));
    expect(found).toEqual([]);
  });

  test('each opens with a comment that says what it is for', () => {
    expect(ALL.filter(({ text }) => !/^(?:#!.*\n)?\/[*/]/.test(text)).map(({ path }) => path)).toEqual([]);
  });

  test('none is longer than 400 lines', () => {
    expect(ALL.filter(({ text }) => text.split('\n').length > 400).map(({ path }) => path)).toEqual([]);
  });

  test('the top of the repository holds what it is meant to hold', () => {
    const wanted = ['package.json', 'tsconfig.json', 'server', 'web', 'profiles', 'tests', 'fixtures', 'LICENSE'];
    expect(readdirSync(ROOT)).toEqual(expect.arrayContaining(wanted));
  });
});
