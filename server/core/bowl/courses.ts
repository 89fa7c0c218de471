/**
 * The courses a bowl may be on while nobody changes anything: approaches  T(t) = level + (T − level)·e^(−t/τ)  for several time constants,
 * in a hot bath, a cold one or the room's air. Each is a least-squares line in e^(−t/τ), with what is known of baths as a prior of the
 * level; the readings say how likely each is. Running sums only: a reading costs the same after hours. Knows nothing of phases or doubts.
 */

/** 4–36 min are seen in baths, 38–96 min in air (domain §6.2); evenly on a log scale. */
const BATH_TAUS_S = [220, 275, 344, 430, 537, 671, 839, 1049, 1311, 1639, 2048] as const;
const AIR_TAUS_S = [2500, 4500] as const;
const TAUS_S: readonly number[] = [...BATH_TAUS_S, ...AIR_TAUS_S];
const LN_TAUS = TAUS_S.map((tauS) => Math.log(tauS));
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
const LONGEST_VALUE_S = 5;

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

/** The sums with a value, °C, that was read up to `atMs`; on the whole of its readings `agoS` before, seconds. */
export function withValue(c: Courses, atMs: number, valueC: number, agoS: number): Courses {
  const dtS = (atMs - c.atMs) / 1000;
  const forS = Math.min(LONGEST_VALUE_S, dtS);
  const ageS = (atMs - c.sinceMs) / 1000;
  const memoryS = Math.min(LONGEST_MEMORY_S, Math.max(SHORTEST_MEMORY_S, ageS / 2));
  const z = valueC - c.fromC;
  const time = c.time.slice();
  const zs = c.z.slice();
  const zz = c.zz.slice();
  const u = c.u.slice();
  const uu = c.uu.slice();
  const uz = c.uz.slice();
  const { grows, fades } = pacesOf(dtS);
  const memory = Math.exp(-dtS / memoryS);
  for (let i = 0; i < TAUS_S.length; i++) {
    const grow = grows[i]!;
    const fade = memoryS < TAUS_S[i]! / OLDEST ? memory : fades[i]!;
    const kept = fade * grow;
    // e^(ago/τ): a value is a few seconds old, a course takes minutes.
    const ago = 1 + agoS / TAUS_S[i]!;
    time[i] = fade * time[i]! + forS;
    zs[i] = fade * zs[i]! + forS * z;
    zz[i] = fade * zz[i]! + forS * z * z;
    u[i] = kept * u[i]! + forS * ago;
    uu[i] = kept * grow * uu[i]! + forS * ago * ago;
    uz[i] = kept * uz[i]! + forS * ago * z;
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
  readonly lnTau: number;
  readonly levelC: number;
  readonly tempC: number;
  /** Variances and covariance of level and temperature, °C². */
  readonly levelVar: number;
  readonly bothVar: number;
  readonly tempVar: number;
  readonly isBath: boolean;
}

/**
 * Every course with its weight, but for those that are as good as impossible; weights add up to 1. `lagS`: the probe follows an
 * approach later by its lag, so the chocolate is further on. `density`: of the stirring noise, °C²·s.
 */
export function likelyCourses(
  c: Courses,
  lagS: number,
  density: number,
  baths: Baths,
  melting: boolean,
  towardsC: number | null,
): Likely[] {
  const found = new Found(c.fromC);
  const nowC = c.fromC + c.z[0]! / c.time[0]!;
  const otherwise = melting ? MELTING_ELSE : 1;
  const hotC = Math.max(HOT.levelC, nowC + HOTTER_C, (towardsC ?? 0) + ENOUGH_C);
  const coldC = Math.min(COLD.levelC, nowC - COLDER_C);
  const hotTaus = tauShares(baths.hot ?? baths.cold);
  const coldTaus = tauShares(baths.cold ?? baths.hot);
  for (let i = 0; i < BATH_TAUS_S.length; i++) {
    const line = lineOf(c, i, density);
    found.inBath(line, HOT.share * hotTaus[i]!, hotC, HOT.sdC, baths.hot?.levelC ?? null);
    found.inBath(line, otherwise * COLD.share * coldTaus[i]!, coldC, COLD.sdC, baths.cold?.levelC ?? null);
  }
  for (let i = BATH_TAUS_S.length; i < TAUS_S.length; i++) {
    found.add(lineOf(c, i, density), (otherwise * AIR.share) / AIR_TAUS_S.length, AIR.levelC, AIR.sdC);
  }
  return found.weighed(lagS);
}

/** A course this much less likely than another is left out: at a hundred degrees it would move nothing by a millionth. Ours. */
const IMPOSSIBLE = 1e-9;
/** and one that misses the readings by so many squares of their noise more is, whatever else speaks for it. */
const OFF_THE_SCALE = 100;

/** What the readings alone say of one time constant: the line in e^(−t/τ), with the level left open. */
interface Line {
  readonly tauS: number;
  readonly lnTau: number;
  /** Slope of the line's other end on the level. */
  readonly bend: number;
  /** Where that end is at level 0, counted from `fromC`, °C, and its variance, °C². */
  readonly way: number;
  readonly wayVar: number;
  /** What they say of the level: information, 1/°C², and information times level, 1/°C. */
  readonly known: number;
  readonly says: number;
  /** Misfit at level 0, squares of their noise; and how much a square counts, as old readings do not bear on a quick course. */
  readonly rest: number;
  readonly counts: number;
  readonly isBath: boolean;
}

function lineOf(c: Courses, i: number, density: number): Line {
  const inverse = 1 / c.uu[i]!;
  const bend = c.u[i]! * inverse;
  const way = c.uz[i]! * inverse;
  return {
    tauS: TAUS_S[i]!,
    lnTau: LN_TAUS[i]!,
    bend,
    way,
    wayVar: density * inverse,
    known: (c.time[i]! - bend * c.u[i]!) / density,
    says: (c.z[i]! - bend * c.uz[i]!) / density,
    rest: (c.zz[i]! - way * c.uz[i]!) / density,
    counts: c.time[0]! / c.time[i]!,
    isBath: i < BATH_TAUS_S.length,
  };
}

/**
 * The courses as they are found: each a line with what is known of baths as a prior of its level, and how well it explains what was
 * read. Lives no longer than one look at them.
 */
class Found {
  private readonly fromC: number;
  /** For each course: its line, its level less `fromC`, °C, the variance of that, what it is worth before its misfit counts, and that. */
  private readonly lines: Line[] = [];
  private readonly levels: number[] = [];
  private readonly levelVars: number[] = [];
  private readonly weights: number[] = [];
  private readonly misfits: number[] = [];

  constructor(fromC: number) {
    this.fromC = fromC;
  }

  /** `again`: level of the bath of this kind that was met before, °C. */
  inBath(line: Line, share: number, levelC: number, sdC: number, again: number | null): void {
    this.add(line, again === null ? share : (1 - AGAIN) * share, levelC, sdC);
    if (again !== null) this.add(line, AGAIN * share, again, AGAIN_SD_C);
  }

  /** Fits one course. */
  add(line: Line, share: number, priorC: number, priorSdC: number): void {
    const { known, says, rest, counts, wayVar } = line;
    const sure = 1 / (priorSdC * priorSdC);
    const prior = priorC - this.fromC;
    const levelVar = 1 / (known + sure);
    const level = (says + prior * sure) * levelVar;
    const off = level - prior;
    this.lines.push(line);
    this.levels.push(level);
    this.levelVars.push(levelVar);
    this.weights.push(share * Math.sqrt(sure * levelVar * wayVar));
    this.misfits.push(counts * (rest - level * (2 * says - level * known)) + off * off * sure);
  }

  weighed(lagS: number): Likely[] {
    const { misfits, weights } = this;
    let least = Infinity;
    for (const misfit of misfits) if (misfit < least) least = misfit;
    let most = 0;
    for (let k = 0; k < misfits.length; k++) {
      const worse = misfits[k]! - least;
      weights[k] = worse > OFF_THE_SCALE ? 0 : weights[k]! * Math.exp(-0.5 * worse);
      if (weights[k]! > most) most = weights[k]!;
    }
    const likely: Likely[] = [];
    let sum = 0;
    for (const weight of weights) if (weight >= IMPOSSIBLE * most) sum += weight;
    for (let k = 0; k < weights.length; k++) {
      if (weights[k]! >= IMPOSSIBLE * most) likely.push(this.likely(k, weights[k]! / sum, lagS));
    }
    return likely;
  }

  private likely(k: number, weight: number, lagS: number): Likely {
    const { tauS, lnTau, bend, way, wayVar, isBath } = this.lines[k]!;
    const level = this.levels[k]!;
    const levelVar = this.levelVars[k]!;
    const on = Math.max(0.2, 1 - lagS / tauS);
    const both = 1 - on * bend;
    return {
      weight,
      tauS,
      lnTau,
      levelC: this.fromC + level,
      tempC: this.fromC + level * both + on * way,
      levelVar,
      bothVar: both * levelVar,
      tempVar: both * both * levelVar + on * on * wayVar,
      isBath,
    };
  }
}

/**
 * Share of each of the time constants in baths: all alike, or most of it near the one that was learned. Along an even grid each value of a
 * normal distribution is the one before times a factor, and each factor the one before times another.
 */
function tauShares(known: Bath | null): readonly number[] {
  if (known === null) return EVEN;
  const spread = known.lnTauVar + SAME_TAU_SD * SAME_TAU_SD;
  const off = LN_TAUS[0]! - known.lnTau;
  let near = ((SAME_TAU * LN_STEP) / Math.sqrt(2 * Math.PI * spread)) * Math.exp((-0.5 * off * off) / spread);
  let factor = Math.exp((-LN_STEP * (off + LN_STEP / 2)) / spread);
  const change = Math.exp((-LN_STEP * LN_STEP) / spread);
  const shares = EVEN.slice();
  for (let i = 0; i < shares.length; i++) {
    shares[i] = (1 - SAME_TAU) * shares[i]! + near;
    near *= factor;
    factor *= change;
  }
  return shares;
}

const EVEN: readonly number[] = BATH_TAUS_S.map(() => 1 / BATH_TAUS_S.length);
