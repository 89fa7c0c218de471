/** The parts that sheets over a run are made of: fetched once what opens them is here, and before anybody opens one. */

export const fetchMore = () => import('./controls/more-sheet.tsx');
export const fetchStanding = () => import('./controls/standing-sheet.tsx');
export const fetchNote = () => import('./controls/note-sheet.tsx');
export const fetchNoteWhen = () => import('./controls/note-when.tsx');
export const fetchNotedList = () => import('./controls/noted-list.tsx');

/** Where one doesn't come, its place on the page says so. */
export function fetchSheets(): void {
  for (const fetchPart of [fetchNote, fetchStanding, fetchMore, fetchNoteWhen, fetchNotedList])
    void fetchPart().catch(() => undefined);
}
