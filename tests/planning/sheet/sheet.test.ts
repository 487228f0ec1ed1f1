import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { buildSheet, logTubes, mixedPool, planAgain } from "../../../src/planning/index.ts";
import { chooseFlask } from "../../../src/planning/sheet/flask.ts";
import { inventedRun } from "../support/run.ts";

const base = { rack: null, racks: null, largestFlaskMl: null, again: [] };

describe("flasks", () => {
  it.each([
    [24, 500, { flaskMl: 50, portions: 1 }],
    [25, 500, { flaskMl: 50, portions: 1 }],
    [26, 500, { flaskMl: 100, portions: 1 }],
    [250, 500, { flaskMl: 500, portions: 1 }],
    [251, 500, { flaskMl: 500, portions: 2 }],
    [620, 250, { flaskMl: 250, portions: 5 }],
  ])("%i mL with %i mL as the largest", (volume, largest, expected) => {
    expect(chooseFlask(volume, largest)).toMatchObject(expected);
  });

  it("are never more than half full, and the portions make the volume", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 5000, noNaN: true }),
        fc.constantFrom(50, 100, 250, 500, 1000),
        (volume, largest) => {
          const { flaskMl, portions, portionMl } = chooseFlask(volume, largest);
          expect(portionMl).toBeLessThanOrEqual(flaskMl / 2 + 1e-6);
          expect(flaskMl).toBeLessThanOrEqual(largest);
          expect(portions * portionMl).toBeCloseTo(volume, 6);
        },
      ),
    );
    expect(() => chooseFlask(10, 5)).toThrow(/too small/);
  });
});

describe("bench sheet", () => {
  it("sums volumes tube by tube and says what to do with each pool", () => {
    const { result, plan } = inventedRun();
    const notes = [{ from: 9, to: 9, volumeMl: 4, eluent: null, flask: null, note: "tube broke" }];
    const log = logTubes(plan.tubes.length, 8, notes, null);
    const sheet = buildSheet({ ...base, result, log });
    for (const pool of sheet.pools) {
      const expected = pool.tubes.reduce((sum, n) => sum + (n === 9 ? 4 : 8), 0);
      expect(pool.volumeMl).toBe(expected);
      if (pool.kind === "empty") expect(pool.flask).toBeNull();
      else expect(pool.action).toMatch(/^Filter through a fritted funnel first/);
      if (pool.kind === "mixed") expect(pool.action).toMatch(/run again/);
    }
    expect(sheet.notes).toContain("Tube 9: tube broke");
    expect(sheet.notes.join()).toMatch(/never proof of purity/);
    expect(sheet.keep.join()).toMatch(/until the spectra/);
  });

  it("asks about a rack that does not hold the tubes", () => {
    const { result, plan } = inventedRun();
    const log = logTubes(plan.tubes.length, 8, [], null);
    const rack = { rows: 2, columns: 5, fill: "rows", start: "top-left" } as const;
    expect(() => buildSheet({ ...base, result, log, rack, racks: 1 })).toThrow(/do not fit the rack of 2 x 5.*\?/);
    expect(buildSheet({ ...base, result, log, rack }).racks).toBe(Math.ceil(plan.tubes.length / 10));
  });

  it("names doubtful tubes and the plan of the mixed pool", () => {
    const { result, plan } = inventedRun({}, { confidence: (tube) => (tube === 12 ? 0.6 : 0.95) });
    const log = logTubes(plan.tubes.length, 8, [], null);
    const pool = mixedPool(result, null);
    const again = planAgain(pool, {
      result,
      first: plan,
      check: null,
      weighedMg: 22,
      givenMg: null,
      firstLoadMg: 250,
      want: "B",
    });
    const sheet = buildSheet({ ...base, result, log, again: [again] });
    expect(sheet.runAgain[0]).toMatch(/tube 12 again/);
    const [remark] = again.reasons.filter((r) => /eluent/.test(r));
    expect(remark && sheet.runAgain.filter((line) => line.endsWith(remark.slice(1)))).toHaveLength(1);
    expect(sheet.runAgain.join()).toMatch(new RegExp(`Pool ${pool.id}.*22.0 mg.*column ${again.plan.diameterMm} mm`));
  });
});
