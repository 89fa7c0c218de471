/** The pages that are fetched when somebody goes there. */
import type { AsidePage, AsideWord } from '../places.tsx';

/** Asked for again, it is the same one. */
const fetchBeside = () => import('./beside.ts');

export const FETCH_PAGE: Readonly<Record<AsideWord, () => Promise<AsidePage>>> = {
  runs: () => import('./runs.tsx').then((part) => part.RunsPage),
  bench: () => import('./bench.tsx').then((part) => part.BenchPage),
  kept: () => fetchBeside().then((part) => part.KeptPage),
  profiles: () => fetchBeside().then((part) => part.ProfilesPage),
  'profiles/': () => fetchBeside().then((part) => part.ProfilePage),
  check: () => fetchBeside().then((part) => part.CheckPage),
  thermometer: () => fetchBeside().then((part) => part.ThermometerPage),
  screens: () => fetchBeside().then((part) => part.ScreensPage),
  bag: () => fetchBeside().then((part) => part.BagPage),
  'runs/': () => import('./past.tsx').then((part) => part.PastRunPage),
  'compare/': () => import('./compare.tsx').then((part) => part.ComparePage),
  heard: () => import('./heard.tsx').then((part) => part.HeardPage),
  bin: () => import('./bin.tsx').then((part) => part.BinPage),
  'hand-over/': () => import('./hand-over.tsx').then((part) => part.HandOverPage),
  'bring-in': () => import('./bring-in.tsx').then((part) => part.BringInPage),
  'judged/': () => import('./judged.tsx').then((part) => part.JudgedPage),
};
