import { Matrix, solve } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { solvePositive } from "../../src/math/cholesky.ts";
import { seededRandom } from "../../src/math/random.ts";

/** B Bᵀ + I, positive definite whatever B. */
function positive(n: number, seed: number): Matrix {
  const random = seededRandom(seed);
  const b = Matrix.zeros(n, n).apply(function (this: Matrix, i: number, j: number) {
    this.set(i, j, 2 * random() - 1);
  });
  return b.mmul(b.transpose()).add(Matrix.eye(n));
}

describe("solvePositive", () => {
  it.each([1, 2, 3, 8, 25])("agrees with ml-matrix on %i unknowns, two right-hand sides at once", (n) => {
    const a = positive(n, n);
    const random = seededRandom(100 + n);
    const sides = [0, 1].map(() => Float64Array.from({ length: n }, () => random()));
    const expected = sides.map((b) => solve(a, Matrix.columnVector([...b])).to1DArray());
    expect(solvePositive(Float64Array.from(a.to1DArray()), n, sides)).toBe(true);
    sides.forEach((x, s) => {
      x.forEach((v, i) => {
        expect(v).toBeCloseTo(expected[s][i], 9);
      });
    });
  });

  it("reads the lower triangle only", () => {
    const b = Float64Array.from([10, 13]);
    expect(solvePositive(Float64Array.from([4, Number.NaN, 2, 5]), 2, [b])).toBe(true);
    expect(b[0]).toBeCloseTo((10 * 5 - 2 * 13) / 16, 12);
    expect(b[1]).toBeCloseTo((4 * 13 - 2 * 10) / 16, 12);
  });

  it.each([
    ["indefinite", [1, 2, 2, 1]],
    ["singular", [1, 1, 1, 1]],
    ["negative", [-1, 0, 0, 1]],
    ["not a number", [Number.NaN, 0, 0, 1]],
  ])("refuses a matrix that is %s", (_, a) => {
    expect(solvePositive(Float64Array.from(a), 2, [Float64Array.from([1, 1])])).toBe(false);
  });
});
