/** The one door to the library that draws QR codes (ISO/IEC 18004): a link as a picture for the page, and as one of letters for a terminal. */
import { encode, renderUnicodeCompact } from 'uqr';

/** The path of an SVG whose view is `size` modules wide and high, quiet zone included. */
export interface Picture {
  readonly size: number;
  readonly path: string;
}

/** Modules of nothing around it, as the standard wants. */
const QUIET_ZONE = 4;
/** 15 % may be hidden by a thumb of chocolate (level M of the standard). */
const CORRECTION = 'M';

export function pictureOf(link: string): Picture {
  const { size, data } = encode(link, { ecc: CORRECTION, border: QUIET_ZONE });
  const modules = data.flatMap((row, y) => row.flatMap((isDark, x) => (isDark ? [`M${x} ${y}h1v1h-1z`] : [])));
  return { size, path: modules.join('') };
}

/** Lines for a terminal with light letters on dark. */
export function lettersOf(link: string): string[] {
  return renderUnicodeCompact(link, { ecc: CORRECTION, border: QUIET_ZONE }).split('\n');
}
