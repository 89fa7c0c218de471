/** Signs of buttons that no run needs at once. */
import type { Sign } from './icons.tsx';

export const MORE_SIGN = {
  back: { path: 'M20 12H5M11 6l-6 6 6 6' },
  close: { path: 'M6 6l12 12M18 6L6 18' },
  play: { path: 'M7 5l12 7-12 7z', isSolid: true },
  stop: { path: 'M7 6h10v12H7z' },
  slower: { path: 'M19 6l-7 6 7 6M12 6l-7 6 7 6' },
  faster: { path: 'M5 6l7 6-7 6M12 6l7 6-7 6' },
  mark: { path: 'M5 5l9 7-9 7zM18 5v14' },
  runs: { path: 'M4 6l5 2v11l-5-2zM9 8l6-2v11l-6 2zM15 6l5 2v11l-5-2z' },
} as const satisfies Readonly<Record<string, Sign>>;
