/**
 * The courses a bowl may be on while nobody changes anything: approaches  T(t) = level + (T − level)·e^(−t/τ)  for several time constants,
 * in a hot bath, a cold one or the room's air. Each is a least-squares line in e^(−t/τ), with what is known of baths as a prior of the
 * level; the readings say how likely each is. Running sums only: a reading costs the same after hours. Knows nothing of phases or doubts.
 */

/** 4–36 min are seen in baths, 38–96 min in air (domain §6.2); evenly on a log scale. */
const BATH_TAUS_S = [220, 275, 344, 430, 537, 671, 839, 1049, 1311, 1639, 2048] as const;
const AIR_TAUS_S = [2500, 4500] as const;
const TAUS_S: readonly number[] = [...BATH_TAUS_S, ...AIR_TAUS_S];
const LN_TAUS = BATH_TAUS_S.map((tauS) => Math.log(tauS));
const LN_STEP = Math.log(BATH_TAUS_S[1] / BATH_TAUS_S[0]);
/** Baths are 10–22 °C or 35–70 °C (domain §6), less or more what the open top loses or takes; rooms 18–24 °C. Shares and spreads ours. */
const HOT = { share: 0.45, levelC: 50, sdC: 9 } as const;
const COLD = { share: 0.35, levelC: 17, sdC: 4 } as const;
const AIR = { share: 0.2, levelC: 21, sdC: 2 } as const;
/** People heat with baths that get there: their level lies so far above what is to be reached, °C. Ours. */
const ENOUGH_C = 14;
/** Crystals melt over heat: anything else is so much less likely meanwhile. Ours. */
const MELTING_ELSE = 0.05;
/** Whatever it heads for is this much hotter or colder, °C: a bowl hotter than any bath stands over something hotter still. Ours. */
const HOTTER_C = 10;
const COLDER_C = 4;
/** A bath met before in this run is met again as likely as not; its level then differs by this, °C r.m.s. Ours. */
const AGAIN = 0.7;
const AGAIN_SD_C = 2.5;
/** A bowl's time constant is the same again as likely as this, within this factor (of e). Ours: stirring differs. */
const SAME_TAU = 0.7;
const SAME_TAU_SD = 0.25;

/** A course is not held against values further back than its time constant over this: there it would be off the scale. Ours. */
const OLDEST = 2.2;
/** Memory: half of the stretch's age, seconds, between these. What was seen just after a change counts less and less. Ours. */
const SHORTEST_MEMORY_S = 25;
const LONGEST_MEMORY_S = 400;
/** A value after a gap stands for no more than this, seconds. Ours. */
const LONGEST_VALUE_S = 4;

/** What was learned of one kind of bath: where it leads, °C, and the bowl's time constant in it, ln seconds, with its variance. */
export interface Bath {
  readonly levelC: number | null;
  readonly lnTau: number;
  readonly lnTauVar: number;
  /** Learned in this run; not: in an earlier one. */
  readonly here: boolean;
}

export interface Baths {
  readonly hot: Bath | null;
  readonly cold: Bath | null;
}

/** Fading sums over time, of values counted from `fromC`: plain data. Lists: one entry for each time constant. */
export interface Courses {
  readonly atMs: number;
  readonly sinceMs: number;
  readonly fromC: number;
  readonly time: readonly number[];
  readonly z: readonly number[];
  readonly zz: readonly number[];
  readonly u: readonly number[];
  readonly uu: readonly number[];
  readonly uz: readonly number[];
}

/** What was known when the stretch began: the probe's own temperature and rate, with their standard deviations, °C and °C/s. */
export interface Known {
  readonly valueC: number;
  readonly valueSdC: number;
  readonly rateCPerS: number;
  readonly rateSdCPerS: number;
}

/** `density`: of the stirring noise, °C²·s, in which the first knowledge is weighed. */
export function startCourses(atMs: number, known: Known, density: number): Courses {
  const value = density / known.valueSdC ** 2;
  const rate = density / known.rateSdCPerS ** 2;
  return {
    atMs,
    sinceMs: atMs,
    fromC: known.valueC,
    time: TAUS_S.map(() => value),
    z: TAUS_S.map(() => 0),
    zz: TAUS_S.map(() => rate * known.rateCPerS ** 2),
    u: TAUS_S.map(() => value),
    uu: TAUS_S.map((tauS) => value + rate / (tauS * tauS)),
    uz: TAUS_S.map((tauS) => (-rate * known.rateCPerS) / tauS),
  };
}

/** The sums with a value, °C, that was read up to `atMs`. */
export function withValue(c: Courses, atMs: number, valueC: number): Courses {
  const dtS = (atMs - c.atMs) / 1000;
  const forS = Math.min(LONGEST_VALUE_S, dtS);
  const ageS = (atMs - c.sinceMs) / 1000;
  const memoryS = Math.min(LONGEST_MEMORY_S, Math.max(SHORTEST_MEMORY_S, ageS / 2));
  const z = valueC - c.fromC;
  const time: number[] = [];
  const zs: number[] = [];
  const zz: number[] = [];
  const u: number[] = [];
  const uu: number[] = [];
  const uz: number[] = [];
  const { grows, fades } = pacesOf(dtS);
  const memory = Math.exp(-dtS / memoryS);
  for (let i = 0; i < TAUS_S.length; i++) {
    const grow = grows[i]!;
    const fade = memoryS < TAUS_S[i]! / OLDEST ? memory : fades[i]!;
    const kept = fade * grow;
    time.push(fade * c.time[i]! + forS);
    zs.push(fade * c.z[i]! + forS * z);
    zz.push(fade * c.zz[i]! + forS * z * z);
    u.push(kept * c.u[i]! + forS);
    uu.push(kept * grow * c.uu[i]! + forS);
    uz.push(kept * c.uz[i]! + forS * z);
  }
  return { atMs, sinceMs: c.sinceMs, fromC: c.fromC, time, z: zs, zz, u, uu, uz };
}

interface Paces {
  readonly dtS: number;
  readonly grows: readonly number[];
  readonly fades: readonly number[];
}

let lastPaces: Paces = { dtS: 0, grows: [], fades: [] };

/** How far each course gets in `dtS`, and what is left of its oldest values. Kept from one value to the next, as most come at one pace. */
function pacesOf(dtS: number): Paces {
  if (lastPaces.dtS !== dtS || lastPaces.grows.length === 0) {
    const grows = TAUS_S.map((tauS) => Math.exp(dtS / tauS));
    lastPaces = { dtS, grows, fades: TAUS_S.map((tauS) => Math.exp(-dtS / (tauS / OLDEST))) };
  }
  return lastPaces;
}

/** One course with its likelihood: where it heads for, °C, where it is now, and how sure. */
export interface Likely {
  readonly weight: number;
  readonly tauS: number;
  readonly levelC: number;
  readonly tempC: number;
  /** Variances and covariance of level and temperature, °C². */
  readonly levelVar: number;
  readonly bothVar: number;
  readonly tempVar: number;
  readonly isBath: boolean;
}

/**
 * Every course with its weight; weights add up to 1. `lagS`: the probe follows an approach
 * later by its lag, so the chocolate is further on. `density`: of the stirring noise, °C²·s.
 */
export function likelyCourses(
  c: Courses,
  lagS: number,
  density: number,
  baths: Baths,
  melting: boolean,
  towardsC: number | null,
): Likely[] {
  const found = new Found(c, lagS, density);
  const nowC = c.fromC + c.z[0]! / c.time[0]!;
  const otherwise = melting ? MELTING_ELSE : 1;
  const hotC = Math.max(HOT.levelC, nowC + HOTTER_C, (towardsC ?? 0) + ENOUGH_C);
  const coldC = Math.min(COLD.levelC, nowC - COLDER_C);
  found.inBath(baths.hot, baths.hot ?? baths.cold, HOT.share, hotC, HOT.sdC);
  found.inBath(baths.cold, baths.cold ?? baths.hot, otherwise * COLD.share, coldC, COLD.sdC);
  for (let k = 0; k < AIR_TAUS_S.length; k++) {
    found.add(BATH_TAUS_S.length + k, (otherwise * AIR.share) / AIR_TAUS_S.length, AIR.levelC, AIR.sdC, false);
  }
  return found.weighed();
}

/** The courses as they are found, and how well each explains what was read. Lives no longer than one look at them. */
class Found {
  private readonly likely: Weighable[] = [];
  private readonly logs: number[] = [];

  private readonly c: Courses;
  private readonly lagS: number;
  private readonly density: number;

  constructor(c: Courses, lagS: number, density: number) {
    this.c = c;
    this.lagS = lagS;
    this.density = density;
  }

  /** `own`: the bath of this kind that was met before. `known`: whose bath teaches the time constant. */
  inBath(own: Bath | null, known: Bath | null, share: number, levelC: number, sdC: number): void {
    const again = own?.levelC ?? null;
    for (let i = 0; i < BATH_TAUS_S.length; i++) {
      const part = share * tauShare(known, i);
      this.add(i, again === null ? part : (1 - AGAIN) * part, levelC, sdC, true);
      if (again !== null) this.add(i, AGAIN * part, again, AGAIN_SD_C, true);
    }
  }

  /** Fits one course. */
  add(i: number, share: number, priorC: number, priorSdC: number, isBath: boolean): void {
    const { c, density, lagS } = this;
    const tauS = TAUS_S[i]!;
    const sure = 1 / (priorSdC * priorSdC);
    const prior = priorC - c.fromC;
    const aa = c.time[i]! / density + sure;
    const ab = c.u[i]! / density;
    const bb = c.uu[i]! / density;
    const ra = c.z[i]! / density + prior * sure;
    const rb = c.uz[i]! / density;
    const det = aa * bb - ab * ab;
    const a = (ra * bb - rb * ab) / det;
    const b = (aa * rb - ab * ra) / det;
    const on = Math.max(0.2, 1 - lagS / tauS);
    const levelVar = bb / det;
    const abVar = -ab / det;
    this.likely.push({
      weight: 0,
      tauS,
      levelC: c.fromC + a,
      tempC: c.fromC + a + on * b,
      levelVar,
      bothVar: levelVar + on * abVar,
      tempVar: levelVar + 2 * on * abVar + (on * on * aa) / det,
      isBath,
    });
    const own = (a - prior) ** 2 * sure;
    const misfit = c.zz[i]! / density + prior * prior * sure - a * ra - b * rb - own;
    const fits = -0.5 * ((misfit * c.time[0]!) / c.time[i]! + own) - 0.5 * Math.log(det);
    this.logs.push(Math.log(share / priorSdC) + fits);
  }

  weighed(): Likely[] {
    const { likely, logs } = this;
    let highest = -Infinity;
    for (const log of logs) if (log > highest) highest = log;
    let sum = 0;
    for (let k = 0; k < likely.length; k++) sum += likely[k]!.weight = Math.exp(logs[k]! - highest);
    for (const one of likely) one.weight /= sum;
    return likely;
  }
}

type Weighable = { -readonly [Key in keyof Likely]: Likely[Key] };

/** Share of one of the time constants in baths: all alike, or most of it near the one that was learned. */
function tauShare(known: Bath | null, i: number): number {
  const even = 1 / BATH_TAUS_S.length;
  if (known === null) return even;
  const spread = known.lnTauVar + SAME_TAU_SD ** 2;
  const off = LN_TAUS[i]! - known.lnTau;
  const near = (LN_STEP * Math.exp((-0.5 * off * off) / spread)) / Math.sqrt(2 * Math.PI * spread);
  return (1 - SAME_TAU) * even + SAME_TAU * near;
}
