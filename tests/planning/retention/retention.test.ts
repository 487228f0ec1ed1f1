import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { PlatepoolError } from "../../../src/model/index.ts";
import {
  checkRf,
  columnResolution,
  columnVolumes,
  deltaRf,
  logRetention,
  logRetentionSd,
  peakResolution,
  plateResolution,
  retardation,
  retentionFactor,
} from "../../../src/planning/retention/index.ts";

describe("retardation and retention (IUPAC Gold Book R05352, R05353)", () => {
  it("R = 1/(k + 1): k 1 moves half as fast as the eluent, k 3 a quarter", () => {
    expect(retardation(0)).toBe(1);
    expect(retardation(1)).toBe(0.5);
    expect(retardation(3)).toBe(0.25);
    expect(retentionFactor(0.25)).toBe(3);
  });

  it("retention volume is 1/R hold-up volumes, V_R = V_M (1 + k)", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 1, noNaN: true }), (rf) => {
        expect(columnVolumes(rf)).toBeCloseTo(1 + retentionFactor(rf), 9);
        expect(retardation(retentionFactor(rf))).toBeCloseTo(rf, 12);
      }),
    );
  });

  it("the same difference of Rf is more volume low on the plate: V_M (1/R_F1 - 1/R_F2)", () => {
    const apart = (fast: number, slow: number) => columnVolumes(slow) - columnVolumes(fast);
    expect(apart(0.3, 0.15)).toBeGreaterThan(apart(0.5, 0.35));
    expect(apart(0.5, 0.35)).toBeCloseTo(0.857, 3);
  });

  it("carries the uncertainty of Rf over to ln k as a small difference would", () => {
    const step = 1e-6;
    const slope = (logRetention(0.3 + step) - logRetention(0.3 - step)) / (2 * step);
    expect(logRetentionSd(0.3, 0.02)).toBeCloseTo(0.02 * Math.abs(slope), 6);
  });
});

describe("resolution (Ph. Eur. 2.2.46)", () => {
  it("two peaks at 11.6 and 8.4 with half widths 1.2 and 1.25: 1.54, the worked example recomputed", () => {
    expect(peakResolution(11.6, 8.4, 1.2, 1.25)).toBeCloseTo(1.54, 2);
  });

  it("two spots: R_S = 1.18 a (R_F2 - R_F1)/(w_h1 + w_h2) with a = 1 (formula from memory)", () => {
    expect(plateResolution(0.5, 0.3, 0.06, 0.04)).toBeCloseTo((1.18 * 0.2) / 0.1, 12);
    expect(plateResolution(0.5, 0.3, 0, 0)).toBe(0);
  });

  it("on the column grows with the square root of the plates and vanishes for one Rf", () => {
    expect(columnResolution(0.4, 0.3, 400) / columnResolution(0.4, 0.3, 100)).toBeCloseTo(2, 12);
    expect(columnResolution(0.35, 0.35, 100)).toBe(0);
  });
});

describe("Rf as it is typed", () => {
  it.each([-0.01, 1.01, 35, Number.NaN])("%s is refused with the range", (rf) => {
    expect(() => checkRf(rf, "A")).toThrow(PlatepoolError);
    expect(() => checkRf(rf, "A")).toThrow(/between 0 and 1/);
  });

  it("0.35 and 0.20 are 0.15 apart", () => {
    expect(deltaRf(0.35, 0.2)).toBe(0.15);
  });
});
