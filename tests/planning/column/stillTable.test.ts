import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { expectedPlates } from "../../../src/planning/column/plates.ts";
import { flashValue, loadLimitMg, neededDiameterMm } from "../../../src/planning/column/stillTable.ts";
import { columnResolution } from "../../../src/planning/retention/index.ts";

// W. C. Still, M. Kahn, A. Mitra, J. Org. Chem. 1978, 43, 2923, table 1, typed here again (from memory):
// diameter mm, eluent mL, load mg at a difference of Rf >= 0.2 and >= 0.1, fraction mL.
const TABLE = [
  [10, 100, 100, 40, 5],
  [20, 200, 400, 160, 10],
  [30, 400, 900, 360, 20],
  [40, 600, 1600, 600, 30],
  [50, 1000, 2500, 1000, 50],
] as const;

describe("Still, Kahn and Mitra's table", () => {
  it.each(TABLE)("%i mm comes out as printed", (diameter, eluent, at02, at01, fraction) => {
    expect(flashValue(diameter, "eluentMl")).toBeCloseTo(eluent, 9);
    expect(flashValue(diameter, "fractionMl")).toBeCloseTo(fraction, 9);
    expect(loadLimitMg(diameter, 0.2)).toBeCloseTo(at02, 9);
    expect(loadLimitMg(diameter, 0.35)).toBeCloseTo(at02, 9);
    expect(loadLimitMg(diameter, 0.1)).toBeCloseTo(at01, 9);
    expect(neededDiameterMm(at02, 0.2)).toBeCloseTo(diameter, 6);
    expect(neededDiameterMm(at01, 0.1)).toBeCloseTo(diameter, 6);
  });

  it("between the lines it stays between them and rises with diameter and difference of Rf", () => {
    const diameter = fc.double({ min: 3, max: 120, noNaN: true });
    const delta = fc.double({ min: 0.01, max: 0.4, noNaN: true });
    fc.assert(
      fc.property(diameter, diameter, delta, delta, (d1, d2, r1, r2) => {
        const [small, large] = [Math.min(d1, d2), Math.max(d1, d2)];
        const [close, far] = [Math.min(r1, r2), Math.max(r1, r2)];
        expect(loadLimitMg(small, close)).toBeLessThanOrEqual(loadLimitMg(large, far) + 1e-9);
      }),
    );
    expect(loadLimitMg(25, 0.2)).toBeGreaterThan(400);
    expect(loadLimitMg(25, 0.2)).toBeLessThan(900);
    expect(loadLimitMg(20, 0.15)).toBe(280);
  });

  it("the diameter needed carries the load, and a hair less does not", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 20_000, noNaN: true }),
        fc.double({ min: 0.05, max: 0.3, noNaN: true }),
        (load, delta) => {
          const diameter = neededDiameterMm(load, delta);
          expect(loadLimitMg(diameter, delta)).toBeGreaterThanOrEqual(load * (1 - 1e-9));
          expect(loadLimitMg(diameter * 0.999, delta)).toBeLessThan(load);
        },
      ),
    );
  });

  it("at the table's limits a pair around Rf 0.35 comes off with a resolution of about 1", () => {
    for (const [diameter, , at02, at01] of TABLE) {
      expect(columnResolution(0.35, 0.25, expectedPlates(at01, diameter))).toBeCloseTo(1, 1);
      const wide = columnResolution(0.45, 0.25, expectedPlates(at02, diameter));
      expect(wide).toBeGreaterThan(0.9);
      expect(wide).toBeLessThan(1.2);
    }
  });
});
