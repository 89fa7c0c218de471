/** Draws every state of the road at every size it is meant for; to be looked at in pictures/road/ where pictures are wanted. */
import { picture } from '../picture.ts';
import type { RoadPages } from './build.ts';

interface Shot {
  readonly label: string;
  readonly width: number;
  readonly height: number;
  readonly ratio: number;
  readonly theme: 'light' | 'dark' | 'strong' | 'paper';
  /** Scenes it is for; absent: all but the unfolded ones. */
  readonly scenes?: readonly string[];
}

const UNFOLDED = ['all', 'playback', 'best-all'];
const SHOTS: readonly Shot[] = [
  { label: 'tablet', width: 686, height: 492, ratio: 1, theme: 'light' },
  { label: 'tablet-2x', width: 686, height: 492, ratio: 2, theme: 'light', scenes: ['work', 'cool', 'gap', 'stale'] },
  { label: 'tablet-3x', width: 686, height: 492, ratio: 3, theme: 'light', scenes: ['work'] },
  {
    label: 'dark',
    width: 686,
    height: 492,
    ratio: 1,
    theme: 'dark',
    scenes: ['work', 'cool', 'over-ceiling', 'rewarm-fork', 'best-work', 'best-cool'],
  },
  {
    label: 'strong',
    width: 686,
    height: 492,
    ratio: 1,
    theme: 'strong',
    scenes: ['work', 'over-ceiling', 'best-work'],
  },
  {
    label: 'phone',
    width: 390,
    height: 364,
    ratio: 2,
    theme: 'light',
    scenes: ['cool', 'work', 'melt', 'rewarm-fork', 'crowded', 'best-work', 'best-cool'],
  },
  { label: 'phone-alarm', width: 350, height: 176, ratio: 2, theme: 'light', scenes: ['over-ceiling'] },
  { label: 'wide', width: 1116, height: 340, ratio: 1, theme: 'light', scenes: UNFOLDED },
  { label: 'wide-phone', width: 390, height: 300, ratio: 2, theme: 'light', scenes: UNFOLDED },
  { label: 'paper', width: 698, height: 292, ratio: 2, theme: 'paper', scenes: ['playback'] },
  { label: 'wall', width: 1300, height: 800, ratio: 1, theme: 'light', scenes: ['work', 'cool'] },
];

/** Answers what went wrong in the page. */
export async function drawPictures(pages: RoadPages): Promise<string[]> {
  const complaints: string[] = [];
  for (const { label, width, height, ratio, theme, scenes } of SHOTS) {
    const page = await pages.on({
      width,
      height,
      ratio,
      colorScheme: theme === 'dark' ? 'dark' : 'light',
      contrast: theme === 'strong' ? 'more' : 'no-preference',
    });
    const complain = (error: Error): void => void complaints.push(`${label}: ${error.message}`);
    page.on('pageerror', complain);
    const names = await page.evaluate(() => window.roadPage.scenes);
    for (const name of scenes ?? names.filter((each) => !UNFOLDED.includes(each))) {
      await page.evaluate((a) => window.roadPage.show(a.name, a.width, a.height, a.theme === 'paper'), {
        name,
        width,
        height,
        theme,
      });
      await picture(page, `road/${name}-${label}`);
    }
    page.off('pageerror', complain);
  }
  return complaints;
}
