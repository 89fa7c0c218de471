/** Fetches a part of the page once all that it is made of is at hand. The builder puts it in the place of what it would bring for that itself. */
const coming: Record<string, Promise<unknown>> = {};

/**
 * `styles`: their addresses, seen from here: all that is built lies in one folder. A browser keeps in mind which scripts could not be had, and never
 * asks for those again: each is fetched as a file first, which the server lets it keep. What doesn't come is asked for again with the part.
 */
export async function __vitePreload<Part>(
  fetchPart: (fetchScript: (path: string) => Promise<unknown>) => Promise<Part>,
  styles: readonly string[] = [],
): Promise<Part> {
  await Promise.all(styles.map((path) => once(path, linked)));
  return fetchPart((path) => once(path, filed).then(() => import(/* @vite-ignore */ path)));
}

function once(path: string, bring: (href: string) => Promise<unknown>): Promise<unknown> {
  return (coming[path] ??= bring(new URL(path, import.meta.url).href).catch((why: unknown) => {
    delete coming[path];
    throw why;
  }));
}

/** How a piece of script names another one that it imports, as the builder writes it. */
export const IMPORTED = /"(\.[^"]+\.js)"/g;
/** A file that has not come by then has got stuck on its way, ms (ours: the largest takes a third of it at 4 kB/s). */
const STUCK_AFTER_MS = 30_000;

/** To its end, for the browser keeps it only then; and all that it imports. */
async function filed(href: string): Promise<unknown> {
  const answer = await fetch(href, { signal: AbortSignal.timeout(STUCK_AFTER_MS) });
  if (!answer.ok) throw new Error(href);
  const imported = (await answer.text()).matchAll(IMPORTED);
  return Promise.all(Array.from(imported, ([, path]) => once(path!, filed)));
}

/** Those that the page began with are here. */
async function linked(href: string): Promise<unknown> {
  if ([...document.styleSheets].some((sheet) => sheet.href === href)) return;
  const link = Object.assign(document.createElement('link'), { rel: 'stylesheet', href });
  document.head.append(link);
  return new Promise((resolve, reject) => {
    link.onload = resolve;
    link.onerror = reject;
  });
}
