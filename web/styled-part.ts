/** Fetches a part of the page once its styles are here. The builder puts it in the place of what it would bring for that itself. */
const coming: Record<string, Promise<unknown>> = {};
/** How often a part could not be fetched, by what fetches it. */
const failures: Record<string, number> = {};

/**
 * `styles`: their addresses, seen from the piece of script at `from`. Those that don't come are asked for again with the part. A browser keeps in
 * mind which scripts could not be had, and never asks for those again: they are asked for by other addresses, `again` to the same.
 */
export async function __vitePreload<Part>(
  fetchPart: (again: string) => Promise<Part>,
  styles: readonly string[] = [],
  from?: string,
): Promise<Part> {
  await Promise.all(styles.map((path) => styled(new URL(path, from).href)));
  const which = String(fetchPart);
  const failed = failures[which] ?? 0;
  return fetchPart(failed === 0 ? '' : `?again=${failed}`).catch((why: unknown) => {
    failures[which] = failed + 1;
    throw why;
  });
}

function styled(href: string): Promise<unknown> {
  return (coming[href] ??= linked(href).catch((why: unknown) => {
    delete coming[href];
    throw why;
  }));
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
