import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { ColumnStep } from "../../../src/model/index.ts";
import { elute } from "../../../src/planning/column/elute.ts";
import { runStages } from "../support/stages.ts";

const step = (fromMl: number, rf: Record<string, number>): ColumnStep => ({ eluent: null, fromMl, rf });

describe("where a band leaves the column", () => {
  it("isocratic: V_R = V_M/R (IUPAC Gold Book R05352)", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 1, noNaN: true }),
        fc.double({ min: 1, max: 500, noNaN: true }),
        (rf, holdUp) => {
          expect(elute("A", [step(0, { A: rf })], holdUp, 100).retentionMl / (holdUp / rf)).toBeCloseTo(1, 9);
        },
      ),
    );
  });

  it.each([0.6, 0.35, 0.15])("agrees with a row of equilibrium stages at Rf %f", (rf) => {
    const stages = 200;
    const counted = runStages("A", [step(0, { A: rf })], 40, stages);
    const planned = elute("A", [step(0, { A: rf })], 40, stages);
    expect(planned.retentionMl / counted.meanMl).toBeCloseTo(1, 2);
    // Stages mixed by transfer spread less than a steady flow through as many: s = V sqrt((1 - R)/n), not V/sqrt(n).
    expect((planned.sdMl * Math.sqrt(1 - rf)) / counted.sdMl).toBeCloseTo(1, 1);
  });

  it("agrees with the stages when the eluent changes while bands are on the column", () => {
    const cases: ColumnStep[][] = [
      [step(0, { A: 0.5, B: 0.3, C: 0.05 }), step(90, { A: 0.9, B: 0.75, C: 0.4 })],
      [
        step(0, { A: 0.3, B: 0.1, C: 0.02 }),
        step(60, { A: 0.5, B: 0.3, C: 0.1 }),
        step(160, { A: 0.9, B: 0.8, C: 0.55 }),
      ],
      [step(0, { A: 0.4, B: 0.2, C: 0.1 }), step(30, { A: 0.6, B: 0.4, C: 0.3 })],
    ];
    for (const steps of cases) {
      const planned = ["A", "B", "C"].map((id) => elute(id, steps, 40, 400).retentionMl);
      const counted = ["A", "B", "C"].map((id) => runStages(id, steps, 40, 400).meanMl);
      for (const [i, ml] of planned.entries()) expect(Math.abs(ml / counted[i] - 1)).toBeLessThan(0.03);
      const order = (list: number[]) => list.map((_, i) => i).sort((a, b) => list[a] - list[b]);
      expect(order(planned)).toEqual(order(counted));
    }
  });

  it("a change of eluent after a band is off does not move it", () => {
    const alone = elute("A", [step(0, { A: 0.5 })], 40, 100);
    const later = elute("A", [step(0, { A: 0.5 }), step(41, { A: 0.9 })], 40, 100);
    expect(later).toEqual(alone);
    expect(elute("A", [step(0, { A: 0.5 }), step(39, { A: 0.9 })], 40, 100).step).toBe(1);
  });

  it("a stronger eluent never brings a band later", () => {
    const rf = fc.double({ min: 0.02, max: 0.8, noNaN: true });
    fc.assert(
      fc.property(rf, rf, fc.double({ min: 1, max: 300, noNaN: true }), (a, b, at) => {
        const [weak, strong] = [Math.min(a, b), Math.max(a, b)];
        const stepped = elute("A", [step(0, { A: weak }), step(at, { A: strong })], 40, 100).retentionMl;
        expect(stepped).toBeLessThanOrEqual(40 / weak + 1e-6);
        expect(stepped).toBeGreaterThanOrEqual(40 / strong - 1e-6);
      }),
    );
  });
});
