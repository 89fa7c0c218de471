/**
 * The physics of one bowl: surroundings, bowl wall and stirred chocolate as three lumps, with melting heat.
 * Plain values in, plain values out; knows nothing of probes, people, profiles or time of day.
 */

/** What the bowl stands in. A bath drifts towards `settlesAtC` with the time constant `settleS` (Infinity: it is kept). */
export interface Surroundings {
  readonly kind: 'hot-bath' | 'cold-bath' | 'air';
  readonly tempC: number;
  readonly settlesAtC: number;
  readonly settleS: number;
}

/** Heat paths and wall of a bowl, W/K and J/K. */
export interface Bowl {
  readonly wallJPerK: number;
  /** Wall to chocolate, as it is being stirred. */
  readonly innerWPerK: number;
  /** Water bath to wall. */
  readonly bathWPerK: number;
  /** Room air to wall, out of the bath. */
  readonly airWPerK: number;
  /** Room air to the chocolate's open surface, always. */
  readonly topWPerK: number;
}

/** Where and how fast solid chocolate melts: none below `fromC`, all above `toC`, catching up within about `paceS`. */
export interface Melting {
  readonly fromC: number;
  readonly toC: number;
  readonly paceS: number;
  readonly latentJPerKg: number;
}

export interface Kitchen {
  readonly bowl: Bowl;
  readonly melting: Melting;
  readonly around: Surroundings;
  readonly roomC: number;
  readonly wallC: number;
  readonly chocolateC: number;
  readonly kg: number;
  readonly chocolateJPerK: number;
  /** Chocolate that came into the bowl solid, and how much of it still is, kg. */
  readonly cameSolidKg: number;
  readonly solidKg: number;
}

/** Chevalley et al. in Beckett (ed.), Industrial Chocolate Manufacture and Use, 4th ed., physical constants, J/(kg·K). */
export const SOLID_J_PER_KG_K = 1590;
export const LIQUID_J_PER_KG_K = 1670;
/** Same table: 46 kJ/kg dark (44 milk). The range and the pace are ours: the usual melting range of tempered stock, and minutes for pieces. */
export const STOCK_MELTING: Melting = { fromC: 28, toC: 34, paceS: 40, latentJPerKg: 46_000 };

/** Between solid and liquid (Beckett, 3rd ed.: 1300 and 1200 kg/m³). */
const DENSITY_KG_PER_M3 = 1250;
/** Free convection and radiation together, introductory heat-transfer tables: 5 to 25 W/(m²·K). */
const AIR_W_PER_M2_K = 10;
/** Stainless steel and soda-lime glass, introductory tables: W/(m·K), J/(m³·K). */
const WALLS = {
  steel: { conductivityWPerMK: 16, heatJPerM3K: 3.9e6 },
  glass: { conductivityWPerMK: 1.1, heatJPerM3K: 2.1e6 },
} as const;
/** Our step, s: a sixth of the quickest wall, so that fourth order is exact to well under a millikelvin. */
const LONGEST_STEP_S = 1;

export interface BowlMake {
  readonly kg: number;
  readonly wall: 'steel' | 'glass';
  readonly thicknessMm: number;
  /** Stirring: about 40 slow, 100 normal, 200 scraped, W/(m²·K). */
  readonly stirWPerM2K: number;
  /** Still water 200, moved 500, W/(m²·K). */
  readonly waterWPerM2K: number;
}

/** A hemispherical bowl just filled by its chocolate, with a rim and foot that add a third to the wall. */
export function bowlOf(make: BowlMake): Bowl {
  const radiusM = Math.cbrt((3 * make.kg) / (2 * Math.PI * DENSITY_KG_PER_M3));
  const wettedM2 = 2 * Math.PI * radiusM * radiusM;
  const thicknessM = make.thicknessMm / 1000;
  const wall = WALLS[make.wall];
  const halfWall = thicknessM / 2 / wall.conductivityWPerMK;
  return {
    wallJPerK: (4 / 3) * wettedM2 * thicknessM * wall.heatJPerM3K,
    innerWPerK: wettedM2 / (1 / make.stirWPerM2K + halfWall),
    bathWPerK: wettedM2 / (1 / make.waterWPerM2K + halfWall),
    airWPerK: AIR_W_PER_M2_K * wettedM2,
    topWPerK: (AIR_W_PER_M2_K * wettedM2) / 2,
  };
}

export function roomAir(roomC: number): Surroundings {
  return { kind: 'air', tempC: roomC, settlesAtC: roomC, settleS: Infinity };
}

/** The kitchen with this much chocolate at one temperature in the bowl, standing in the room's air. */
export function filled(
  bowl: Bowl,
  chocolate: { readonly kg: number; readonly tempC: number; readonly solid: boolean },
  roomC: number,
  melting: Melting = STOCK_MELTING,
): Kitchen {
  const solidKg = chocolate.solid ? chocolate.kg : 0;
  return {
    bowl,
    melting,
    around: roomAir(roomC),
    roomC,
    wallC: chocolate.tempC,
    chocolateC: chocolate.tempC,
    kg: chocolate.kg,
    chocolateJPerK: chocolate.kg * (chocolate.solid ? SOLID_J_PER_KG_K : LIQUID_J_PER_KG_K),
    cameSolidKg: solidKg,
    solidKg,
  };
}

/** The kitchen after chocolate was stirred in; its melting heat, where it is solid, is taken up as time goes on. */
export function toppedUp(
  kitchen: Kitchen,
  added: { readonly kg: number; readonly tempC: number; readonly solid: boolean },
): Kitchen {
  const addedJPerK = added.kg * (added.solid ? SOLID_J_PER_KG_K : LIQUID_J_PER_KG_K);
  const chocolateJPerK = kitchen.chocolateJPerK + addedJPerK;
  const solidKg = added.solid ? added.kg : 0;
  return {
    ...kitchen,
    chocolateC: (kitchen.chocolateJPerK * kitchen.chocolateC + addedJPerK * added.tempC) / chocolateJPerK,
    chocolateJPerK,
    kg: kitchen.kg + added.kg,
    cameSolidKg: kitchen.cameSolidKg + solidKg,
    solidKg: kitchen.solidKg + solidKg,
  };
}

/** Where wall and chocolate settle if no heat comes or goes: the sum of C·T over the sum of C, °C. */
export function settledC(kitchen: Kitchen): number {
  const { wallJPerK } = kitchen.bowl;
  return (
    (wallJPerK * kitchen.wallC + kitchen.chocolateJPerK * kitchen.chocolateC) / (wallJPerK + kitchen.chocolateJPerK)
  );
}

/** The kitchen this many seconds later, nobody having changed anything. */
export function later(kitchen: Kitchen, seconds: number): Kitchen {
  const steps = Math.max(1, Math.ceil(seconds / LONGEST_STEP_S));
  let now = kitchen;
  for (let step = 0; step < steps; step += 1) now = stepped(now, seconds / steps);
  return now;
}

/** One step of the classical fourth-order Runge–Kutta method over bath, wall, chocolate and solid share. */
function stepped(kitchen: Kitchen, stepS: number): Kitchen {
  const { tempC } = kitchen.around;
  const { wallC, chocolateC, solidKg } = kitchen;
  const a = slopes(kitchen, tempC, wallC, chocolateC, solidKg);
  const half = stepS / 2;
  // The bath does not feel the bowl, so its course is known exactly.
  const bathHalfC = bathAfter(kitchen.around, half).tempC;
  const around = bathAfter(kitchen.around, stepS);
  const b = slopes(
    kitchen,
    bathHalfC,
    wallC + half * a.wall,
    chocolateC + half * a.chocolate,
    solidKg + half * a.solid,
  );
  const c = slopes(
    kitchen,
    bathHalfC,
    wallC + half * b.wall,
    chocolateC + half * b.chocolate,
    solidKg + half * b.solid,
  );
  const d = slopes(
    kitchen,
    around.tempC,
    wallC + stepS * c.wall,
    chocolateC + stepS * c.chocolate,
    solidKg + stepS * c.solid,
  );
  const sixth = stepS / 6;
  return {
    bowl: kitchen.bowl,
    melting: kitchen.melting,
    around,
    roomC: kitchen.roomC,
    wallC: wallC + sixth * (a.wall + 2 * b.wall + 2 * c.wall + d.wall),
    chocolateC: chocolateC + sixth * (a.chocolate + 2 * b.chocolate + 2 * c.chocolate + d.chocolate),
    kg: kitchen.kg,
    chocolateJPerK: kitchen.chocolateJPerK,
    cameSolidKg: kitchen.cameSolidKg,
    solidKg: Math.max(0, solidKg + sixth * (a.solid + 2 * b.solid + 2 * c.solid + d.solid)),
  };
}

function bathAfter(around: Surroundings, stepS: number): Surroundings {
  const { kind, tempC, settlesAtC, settleS } = around;
  if (settleS === Infinity) return around;
  return { kind, tempC: settlesAtC + (tempC - settlesAtC) * Math.exp(-stepS / settleS), settlesAtC, settleS };
}

interface Slopes {
  readonly wall: number;
  readonly chocolate: number;
  readonly solid: number;
}

function slopes(kitchen: Kitchen, aroundC: number, wallC: number, chocolateC: number, solidKg: number): Slopes {
  const { bowl, melting } = kitchen;
  const outerWPerK = kitchen.around.kind === 'air' ? bowl.airWPerK : bowl.bathWPerK;
  const intoWallW = outerWPerK * (aroundC - wallC);
  const intoChocolateW = bowl.innerWPerK * (wallC - chocolateC);
  const throughTopW = bowl.topWPerK * (kitchen.roomC - chocolateC);
  const solid = meltingKgPerS(kitchen.cameSolidKg, solidKg, chocolateC, melting);
  return {
    wall: (intoWallW - intoChocolateW) / bowl.wallJPerK,
    chocolate: (intoChocolateW + throughTopW + melting.latentJPerKg * solid) / kitchen.chocolateJPerK,
    solid,
  };
}

/** Change of the solid mass, never positive: what has melted stays melted here. */
function meltingKgPerS(cameSolidKg: number, solidKg: number, chocolateC: number, melting: Melting): number {
  if (solidKg <= 0) return 0;
  const share = Math.min(1, Math.max(0, (melting.toC - chocolateC) / (melting.toC - melting.fromC)));
  const tooMuchKg = solidKg - cameSolidKg * share;
  return tooMuchKg > 0 ? -tooMuchKg / melting.paceS : 0;
}
