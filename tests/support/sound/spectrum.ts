/** What is in a sound: peaks of its spectrum, loudness of a stretch. Knows nothing of how it was made. */

export interface Peak {
  readonly hz: number;
  /** Under the strongest of all, dB: 0 or negative. */
  readonly db: number;
}

/** Side lobes of the window fall this fast; what lies lower next to a peak is the window's, dB (Blackman: −58). */
const FLOOR_DB = -50;

/** Peaks of as many samples as the largest power of two in them, strongest first. */
export function peaksOf(samples: readonly number[], rate: number): readonly Peak[] {
  const size = 2 ** Math.floor(Math.log2(samples.length));
  const real = samples.slice(0, size).map((sample, i) => sample * blackman(i / size));
  const power = powerOf(real);
  const strongest = Math.max(...power);
  const peaks: Peak[] = [];
  for (let i = 1; i < power.length - 1; i++) {
    const isPeak = power[i]! > power[i - 1]! && power[i]! >= power[i + 1]!;
    const db = 10 * Math.log10(power[i]! / strongest);
    if (isPeak && db > FLOOR_DB) peaks.push({ hz: (i * rate) / size, db });
  }
  return peaks.sort((a, b) => b.db - a.db);
}

/** Root mean square. */
export function loudness(samples: readonly number[]): number {
  return Math.sqrt(samples.reduce((sum, sample) => sum + sample * sample, 0) / samples.length);
}

function blackman(share: number): number {
  return 0.42 - 0.5 * Math.cos(2 * Math.PI * share) + 0.08 * Math.cos(4 * Math.PI * share);
}

/** Power of each frequency from 0 to half the rate: a Fourier transform by halves. */
function powerOf(samples: readonly number[]): readonly number[] {
  const [re, im] = transformed(
    samples,
    samples.map(() => 0),
  );
  return re.slice(0, samples.length / 2).map((each, i) => each * each + im[i]! * im[i]!);
}

function transformed(re: readonly number[], im: readonly number[]): readonly [number[], number[]] {
  const size = re.length;
  if (size === 1) return [[...re], [...im]];
  const isEven = (_: number, i: number): boolean => i % 2 === 0;
  const isOdd = (_: number, i: number): boolean => i % 2 === 1;
  const [evenRe, evenIm] = transformed(re.filter(isEven), im.filter(isEven));
  const [oddRe, oddIm] = transformed(re.filter(isOdd), im.filter(isOdd));
  const [outRe, outIm] = [Array.from(re), Array.from(im)];
  for (let k = 0; k < size / 2; k++) {
    const angle = (-2 * Math.PI * k) / size;
    const turnedRe = Math.cos(angle) * oddRe[k]! - Math.sin(angle) * oddIm[k]!;
    const turnedIm = Math.cos(angle) * oddIm[k]! + Math.sin(angle) * oddRe[k]!;
    outRe[k] = evenRe[k]! + turnedRe;
    outIm[k] = evenIm[k]! + turnedIm;
    outRe[k + size / 2] = evenRe[k]! - turnedRe;
    outIm[k + size / 2] = evenIm[k]! - turnedIm;
  }
  return [outRe, outIm];
}
