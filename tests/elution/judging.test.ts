import { describe, expect, it } from "vitest";
import reference from "./reference/reference.json" with { type: "json" };
import { adjustedRand } from "./support/agreement.ts";
import { fitBetaCalibration, uncalibrated } from "./support/betaCalibration.ts";
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
    const fitted = fitBetaCalibration(
      judged.map(({ confidence, right }) => ({ p: confidence, right })),
      0,
    );
    expect(fitted.a).toBeCloseTo(reference.beta.a, 2);
    expect(fitted.b).toBeCloseTo(reference.beta.b, 2);
    expect(fitted.c).toBeCloseTo(reference.beta.c, 2);
  });

  it("undoes a calibration", () => {
    const map = { a: 0.7, b: 1.4, c: -0.3 };
    for (const p of [0.01, 0.3, 0.5, 0.9, 0.99]) {
      const z = map.a * Math.log(p) - map.b * Math.log(1 - p) + map.c;
      expect(uncalibrated(1 / (1 + Math.exp(-z)), map)).toBeCloseTo(p, 8);
    }
  });
});
