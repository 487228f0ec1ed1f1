import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { type Example, fitLogistic, logisticProbability } from "./logistic.ts";

/** Values of scikit-learn's LogisticRegression; `logistic.py` made them. */
const reference = JSON.parse(readFileSync(new URL("./logistic.json", import.meta.url), "utf8")) as {
  x: number[][];
  y: number[];
  fits: { ridge: number; weights: number[] }[];
};
const examples = reference.x.map((x, i): Example => ({ x: [1, ...x], y: reference.y[i] === 1 }));

describe("fitLogistic", () => {
  it.each(reference.fits)("agrees with scikit-learn, ridge $ridge", ({ ridge, weights }) => {
    fitLogistic(examples, ridge).forEach((w, i) => {
      expect(Math.abs(w - weights[i])).toBeLessThan(2e-3 * Math.max(1, Math.abs(weights[i])));
    });
  });

  it("stays finite where a feature parts the examples wholly, and where one is constant", () => {
    const parted = [-2, -1, 1, 2].map((v): Example => ({ x: [1, v, 7], y: v > 0 }));
    const weights = fitLogistic(parted, 1);
    expect(weights.every(Number.isFinite)).toBe(true);
    expect(logisticProbability(weights, [1, 1, 7])).toBeGreaterThan(0.6);
    expect(logisticProbability(weights, [1, -1, 7])).toBeLessThan(0.4);
  });

  it("refuses to fit nothing", () => {
    expect(() => fitLogistic([], 1)).toThrow(RangeError);
  });
});
