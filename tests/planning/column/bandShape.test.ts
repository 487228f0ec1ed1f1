import { describe, expect, it } from "vitest";
import { bandCdf, bandQuantile } from "../../../src/planning/column/bandShape.ts";
import { runStages } from "../support/stages.ts";

// SciPy's scipy.stats.gamma, by gamma_values.py beside this file: V, s, z, cdf(V + z s).
const SCIPY = [
  [50, 11, -2, 0.009979],
  [50, 11, -1, 0.156338],
  [50, 11, 0, 0.529263],
  [50, 11, 1, 0.843034],
  [50, 11, 2.5, 0.98677],
  [75, 8, -2, 0.016718],
  [75, 8, -1, 0.158159],
  [75, 8, 0, 0.514185],
  [75, 8, 1, 0.841771],
  [75, 8, 2.5, 0.990406],
  [108, 20, -2, 0.012048],
  [108, 20, -1, 0.157061],
  [108, 20, 0, 0.52463],
  [108, 20, 1, 0.842568],
  [108, 20, 2.5, 0.987876],
  [300, 15, -2, 0.019986],
  [300, 15, -1, 0.158551],
  [300, 15, 0, 0.506649],
  [300, 15, 1, 0.841442],
  [300, 15, 2.5, 0.992225],
  [500, 10, -2, 0.02166],
  [500, 10, -1, 0.158639],
  [500, 10, 0, 0.50266],
  [500, 10, 1, 0.841361],
  [500, 10, 2.5, 0.993171],
] as const;

describe("shape of a band", () => {
  it.each(SCIPY)("V %f, s %f, z %f", (v, s, z, cdf) => {
    expect(Math.abs(bandCdf(v, s)(v + z * s) - cdf)).toBeLessThan(1.5e-3);
  });

  it("quantile and share undo each other", () => {
    expect(bandCdf(108, 20)(bandQuantile(108, 20, -1.96))).toBeCloseTo(0.025, 4);
    expect(bandCdf(108, 20)(bandQuantile(108, 20, 1.96))).toBeCloseTo(0.975, 4);
    expect(bandCdf(108, 20)(0)).toBe(0);
  });

  it("lies over the outflow of a row of equilibrium stages", () => {
    const run = runStages("A", [{ eluent: null, fromMl: 0, rf: { A: 0.3 } }], 40, 100);
    const cdf = bandCdf(run.meanMl, run.sdMl);
    for (const [i, share] of run.left.entries())
      expect(Math.abs(cdf((i + 1.5) * run.mlPerTransfer) - share)).toBeLessThan(0.01);
  });
});
