/** The page as it is built, in memory: its pieces of script, which of them brings which, and what they weigh. */
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { build, type Rolldown } from 'vite';

export type Piece = Rolldown.OutputChunk;

/** As for use: a test run would otherwise be given the library's helps for developers. */
export async function buildPieces(): Promise<Piece[]> {
  const before = process.env['NODE_ENV'];
  process.env['NODE_ENV'] = 'production';
  try {
    return await piecesOf();
  } finally {
    if (before === undefined) delete process.env['NODE_ENV'];
    else process.env['NODE_ENV'] = before;
  }
}

async function piecesOf(): Promise<Piece[]> {
  const configFile = join(import.meta.dirname, '../../web/vite.config.ts');
  const built = await build({ configFile, logLevel: 'silent', build: { write: false } });
  const { output } = (Array.isArray(built) ? built[0] : built) as Rolldown.RolldownOutput;
  return output.filter((piece) => piece.type === 'chunk');
}

/** What a browser loads for these pieces: they and all that they import, not what they fetch later. */
export function broughtBy(all: readonly Piece[], pieces: readonly Piece[]): Piece[] {
  const brought = new Set(pieces);
  for (const { imports } of brought) for (const piece of all) if (imports.includes(piece.fileName)) brought.add(piece);
  return [...brought];
}

/** What the page asks for by itself: the piece that its beginning is in, and all that it imports. */
export function broughtAtOnce(all: readonly Piece[]): Piece[] {
  const first = all.filter((piece) => modulesOf(piece).some((id) => id.endsWith('/web/main.tsx')));
  return broughtBy(all, first);
}

/** Bytes over the line: each piece is compressed by itself, as a server sends it. */
export function gzipped(pieces: readonly Piece[]): number {
  return pieces.reduce((sum, { code }) => sum + gzipSync(code).length, 0);
}

/** Modules whose code is in a piece, forward slashes. */
export function modulesOf(piece: Piece): string[] {
  const kept = Object.entries(piece.modules).filter(([, { renderedLength }]) => renderedLength > 0);
  return kept.map(([id]) => id.replaceAll('\\', '/'));
}
