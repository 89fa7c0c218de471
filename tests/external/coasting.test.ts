/**
 * Coasting of a bowl that leaves its bath against the exact solution of two lumps, wall and chocolate, here by the eigenvalues of their
 * matrix. Own arithmetic of the domain notes: 1 kg (1670 J/K) at 31 °C in a steel bowl (250 J/K) still at 38 °C ends at 31.9 °C with no heat
 * on, ΣCT / ΣC. The engine knows neither weights nor paths: it sees readings alone, and learns the wall from the leavings before.
 */
import { EigenvalueDecomposition, Matrix, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { coastC } from '../../server/core/bowl/forecast.ts';
import { bowlOf } from '../../server/core/bowl/stretch.ts';
import { coastedC, unseenWall } from '../../server/core/bowl/wall.ts';
import { learnedOf } from '../../server/core/engine.ts';
import { Bowl } from '../support/bowl.ts';
import { shipped } from '../support/shipped.ts';

const CHOCOLATE_J_PER_K = 1670;
const STEEL_J_PER_K = 250;
const ROOM_C = 21;

/** Paths in W/K: bath or air to wall, wall to chocolate, chocolate to air. */
interface Paths {
  readonly outer: number;
  readonly inner: number;
  readonly top: number;
}

/** Wall and chocolate, °C, so many seconds later, exactly: T(t) = steady + Σ aₖ·vₖ·e^(λₖt). */
function later(from: readonly [wallC: number, chocolateC: number], aroundC: number, paths: Paths, wallJPerK: number) {
  const { outer, inner, top } = paths;
  const matrix = new Matrix([
    [-(outer + inner) / wallJPerK, inner / wallJPerK],
    [inner / CHOCOLATE_J_PER_K, -(inner + top) / CHOCOLATE_J_PER_K],
  ]);
  const heats = Matrix.columnVector([(outer * aroundC) / wallJPerK, (top * ROOM_C) / CHOCOLATE_J_PER_K]);
  const steady = solve(matrix, heats.clone().mul(-1));
  const { realEigenvalues, eigenvectorMatrix } = new EigenvalueDecomposition(matrix);
  const parts = solve(eigenvectorMatrix, Matrix.columnVector([...from]).sub(steady));
  return (seconds: number): [wallC: number, chocolateC: number] => {
    const at = realEigenvalues.map((value, k) => parts.get(k, 0) * Math.exp(value * seconds));
    const now = eigenvectorMatrix.mmul(Matrix.columnVector(at)).add(steady);
    return [now.get(0, 0), now.get(1, 0)];
  };
}

describe('coasting', () => {
  // The wall's time constant is (C‖w)/G; with a wall path of 5 W/K that is 43.5 s.
  const inner = 5;
  const wallS = (CHOCOLATE_J_PER_K * STEEL_J_PER_K) / (CHOCOLATE_J_PER_K + STEEL_J_PER_K) / inner;

  it('31 °C in steel at 38 °C ends at 31.9 °C with nothing taken by the room', () => {
    const rateCPerS = (inner * (38 - 31)) / CHOCOLATE_J_PER_K;
    expect(31 + rateCPerS * wallS).toBeCloseTo(31.911, 3);
    // As coasted: at the room's own temperature nothing is lost.
    expect(31 + coastedC(ROOM_C, rateCPerS, wallS, 1e4)).toBeCloseTo(31.911, 3);
    const exact = later([38, 31], ROOM_C, { outer: 0, inner, top: 1e-9 }, STEEL_J_PER_K);
    for (const inS of [10, 30, 60, 120, 300]) {
      expect(31 + coastedC(ROOM_C, rateCPerS, wallS, inS)).toBeCloseTo(exact(inS)[1], 3);
    }
  });

  it('follows the exact course within 0.06 °C where the room takes its share', () => {
    // 1 kg: 10 W/m²K on 0.0331 m² of wall and half of that on top (domain notes, kilogram in air: 56 min).
    const air = { outer: 0.331, inner, top: 0.166 };
    const exact = later([38, 31], ROOM_C, air, STEEL_J_PER_K);
    const rateCPerS = (inner * (38 - 31) - air.top * (31 - ROOM_C)) / CHOCOLATE_J_PER_K;
    for (const inS of [10, 30, 60, 120, 180]) {
      expect(Math.abs(31 + coastedC(31, rateCPerS, wallS, inS) - exact(inS)[1])).toBeLessThan(0.06);
    }
  });
});

/** A bowl of 1 kg in a bath, then in air, exactly, as the engine is told of it. */
class Told {
  readonly bowl = new Bowl(shipped('dark'), 45);
  wallC = 45;

  private readonly wallJPerK: number;
  private readonly inner: number;

  constructor(wallJPerK: number, inner: number) {
    this.wallJPerK = wallJPerK;
    this.inner = inner;
  }

  stands(around: 'bath' | 'air', aroundC: number, until: (chocolateC: number, seconds: number) => boolean): this {
    const paths = { outer: around === 'bath' ? 12 : 0.331, inner: this.inner, top: 0.166 };
    const at = later([this.wallC, this.bowl.tempC], aroundC, paths, this.wallJPerK);
    for (let second = 1; ; second++) {
      const [wallC, chocolateC] = at(second);
      this.wallC = wallC;
      this.bowl.ramp(chocolateC, 60 * Math.abs(chocolateC - this.bowl.tempC));
      if (until(chocolateC, second)) return this;
    }
  }

  get wallS(): number {
    return (CHOCOLATE_J_PER_K * this.wallJPerK) / (CHOCOLATE_J_PER_K + this.wallJPerK) / this.inner;
  }

  /** Where the engine has it coast to if it were left now, and where it does. */
  coasts(): { saidC: number; exactC: number; blindC: number } {
    const { filter, stretch } = this.bowl.state.belief;
    const exact = later(
      [this.wallC, this.bowl.tempC],
      ROOM_C,
      { outer: 0.331, inner: this.inner, top: 0.166 },
      this.wallJPerK,
    );
    const peaks = Array.from({ length: 240 }, (_, second) => exact(second)[1]);
    const known = bowlOf(stretch!, filter!, null);
    const blind = { ...known, wallS: Math.exp(unseenWall(null).ln) };
    return { saidC: coastC(known), exactC: Math.max(...peaks), blindC: coastC(blind) };
  }
}

describe.each([
  { name: 'steel of a millimetre', wallJPerK: 172, inner: 4.5, withinLn: 0.15, withinC: 0.1 },
  { name: 'steel, 250 J/K', wallJPerK: 250, inner: 5, withinLn: 0.15, withinC: 0.1 },
  // Five minutes show little more than two of its time constants: what bowls in general are like still counts.
  { name: 'thick glass', wallJPerK: 420, inner: 2.8, withinLn: 0.4, withinC: 0.35 },
])('a kilogram in $name', ({ wallJPerK, inner, withinLn, withinC }) => {
  const told = new Told(wallJPerK, inner);
  told.bowl.start('cool');
  told.stands('bath', 15, (tempC) => tempC <= 28);
  told.stands('air', ROOM_C, (_, seconds) => seconds >= 300);

  it('has taught its wall by leaving the cold once', () => {
    const { coastS } = learnedOf(told.bowl.state);
    expect(Math.abs(Math.log(coastS! / told.wallS))).toBeLessThan(withinLn);
  });

  it('is told where it will coast to before it leaves the heat for the first time, far better than with no wall seen', () => {
    told.stands('bath', 45, (tempC) => tempC >= 30.5);
    const { saidC, exactC, blindC } = told.coasts();
    expect(exactC).toBeGreaterThan(30.7);
    expect(Math.abs(saidC - exactC)).toBeLessThan(withinC);
    expect(Math.abs(saidC - exactC)).toBeLessThan(0.6 * Math.abs(blindC - exactC));
  });
});
