/** What is searched in the list of runs, folded so that capitals and how an accent is put together make no difference. Pure. */

/** Parts of a run do not run into one another: a word that is looked for holds no line end. */
const BETWEEN = '\n';

export function folded(words: string): string {
  // Capitals first: the sharp s has no single one, and a final sigma is another sign than one within a word.
  return words.normalize('NFKC').toUpperCase().toLowerCase().normalize('NFKC');
}

/** All that is searched of a run. `tags`: as JSON; of damaged ones nothing is found. */
export function searchText(
  title: string,
  name: string | null,
  centre: string | null,
  lot: string | null,
  tags: string,
): string {
  return folded([title, name ?? '', centre ?? '', lot ?? '', ...tagsIn(tags)].join(BETWEEN));
}

function tagsIn(json: string): readonly string[] {
  try {
    return (JSON.parse(json) as unknown[]).map(String);
  } catch {
    return [];
  }
}
