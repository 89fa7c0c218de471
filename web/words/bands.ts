/** How the bands of a profile are said in one line. */
import { unitSign } from './manner.ts';
import { bound, unbroken } from './measure.ts';

/** 45–50, then 27–28, then 31–32 °C: the bands in their order; one that only goes on is said once, none broken at its dash. `between`: what stands between two. */
export function bandsInOrder(
  phases: readonly { readonly bandC: readonly [number, number] }[],
  between: string,
): string {
  const bands = phases.map(({ bandC }) => `${bound(bandC[0])}–${bound(bandC[1])}`);
  const said = bands.filter((band, i) => band !== bands[i - 1]).join(between);
  return unbroken(`${said} ${unitSign()}`.replaceAll('–', '\u2060–\u2060'));
}
