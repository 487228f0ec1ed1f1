import { describe, expect, it } from "vitest";
import { calibrated, GUESS, misreadChance } from "../../src/elution/pools/confidence.ts";
import { seededRandom } from "../../src/math/random.ts";
import reference from "./reference/reference.json" with { type: "json" };
import { adjustedRand } from "./support/agreement.ts";
import { fitConfidence, fitRead } from "./support/betaCalibration.ts";
import { brierScore, calibrationError } from "./support/calibrationError.ts";

// The measures by which decisions are judged, against scikit-learn (reference/make_reference.py).
const judged = reference.calibration.confidence.map((confidence, i) => ({
  confidence,
  right: reference.calibration.right[i],
}));

describe("measures against scikit-learn", () => {
  it.each(reference.rand.map((r, i) => ({ ...r, i })))("adjusted Rand index, case $i", ({ a, b, value }) => {
    expect(adjustedRand(a, b)).toBeCloseTo(value, 10);
  });

  it("expected calibration error over calibration_curve's bins", () => {
    expect(calibrationError(judged)).toBeCloseTo(reference.calibration.error, 10);
  });

  it("Brier score", () => {
    expect(brierScore(judged)).toBeCloseTo(reference.calibration.brier, 10);
  });

  it("beta calibration as LogisticRegression fits it", () => {
    const signs = { scatter: 0, doubt: 0, unexplained: 0, blur: 0, faintness: 0, linesWrong: 0 };
    const never = {
      ...{ base: Number.NEGATIVE_INFINITY, perScatter: 0, perDoubt: 0, perUnexplained: 0 },
      ...{ perBlur: 0, perFaintness: 0 },
    };
    const fitted = fitRead(
      judged.map(({ confidence, right }) => ({ ...signs, p: confidence, right })),
      never,
      0,
    );
    expect(fitted.a).toBeCloseTo(reference.beta.a, 2);
    expect(fitted.b).toBeCloseTo(reference.beta.b, 2);
    expect(fitted.c).toBeCloseTo(reference.beta.c, 2);
  });

  it("finds again how often plates were misread", () => {
    const map = { a: 1.3, b: 0.8, c: -0.2 };
    const misread = {
      base: -8,
      perScatter: 8,
      perDoubt: 6,
      perUnexplained: 4,
      perBlur: 1.2,
      perFaintness: 0.8,
    };
    const u = seededRandom(11);
    const pairs = Array.from({ length: 20000 }, () => {
      const p = 1 - 0.6 * u() ** 3;
      const seen = { scatter: 0.15 + 0.5 * u(), doubt: 0.5 * u(), unexplained: 0.5 * u() ** 2 };
      const signs = { ...seen, blur: 2 * u(), faintness: 2.5 * u(), linesWrong: u() ** 3 };
      const q = u() < misreadChance(signs, misread) ? GUESS : calibrated(p, map);
      return { p, ...signs, right: u() < q };
    });
    const fitted = fitConfidence(pairs);
    for (const scatter of [0.2, 0.4, 0.6])
      for (const doubt of [0.05, 0.4]) {
        const signs = { scatter, doubt, unexplained: 0.1, blur: 1, faintness: 1, linesWrong: 0 };
        expect(misreadChance(signs, fitted.misread)).toBeCloseTo(misreadChance(signs, misread), 1);
      }
    for (const p of [0.6, 0.8, 0.95]) expect(calibrated(p, fitted.map)).toBeCloseTo(calibrated(p, map), 1);
  }, 240_000);
});
