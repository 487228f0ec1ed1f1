import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { checkWeighing, recoverMass, type WeighedPool } from "../../../src/planning/index.ts";

const POOLS: WeighedPool[] = [
  { id: "P1", kind: "clean", components: ["A"], purity: { low: 0.9, mid: 0.97, high: 0.99 } },
  { id: "P2", kind: "mixed", components: ["A", "B"], purity: { low: 0.5, mid: 0.6, high: 0.7 } },
  { id: "P3", kind: "clean", components: ["B"], purity: { low: 0.95, mid: 0.98, high: 1 } },
  { id: "P4", kind: "empty", components: [], purity: { low: 0, mid: 0, high: 0 } },
];
const flask = (pool: string, mg: number, name = "1", tareG = 50) => ({
  pool,
  flask: name,
  tareG,
  grossG: tareG + mg / 1000,
});
const BASIS = { productMolarMass: 208.26, limitingMmol: 1.2, ratio: 1, component: "B" };

describe("weighing in", () => {
  it("mass, recovery, balance: 48 + 12 + 170 of 250 mg", () => {
    const r = recoverMass([flask("P1", 48), flask("P2", 12), flask("P3", 100), flask("P3", 70, "2")], POOLS, 250, null);
    expect(r.pools.map((p) => p.massMg && Math.round(p.massMg))).toEqual([48, 12, 170, null]);
    expect(r.pools[2].flasks).toBe(2);
    expect(r.pools[2].recoveryPercent).toBeCloseTo(68, 6);
    expect(r.totalPercent).toBeCloseTo(92, 6);
    expect(r.missingMg).toBeCloseTo(20, 6);
    expect(r.findings).toEqual([]);
  });

  it("yield of the wanted one from its clean pools: chalcone, C15H12O, 208.26 g/mol (IUPAC atomic weights)", () => {
    expect(15 * 12.011 + 12 * 1.008 + 15.999).toBeCloseTo(BASIS.productMolarMass, 1);
    const { product } = recoverMass([flask("P3", 170)], POOLS, 250, BASIS);
    expect(product?.theoryMg).toBeCloseTo(1.2 * 208.26, 9);
    expect(product?.yieldPercent).toBeCloseTo((100 * 170) / (1.2 * 208.26), 9);
    expect(product?.yieldInterval.low).toBeCloseTo(0.95 * (product?.yieldPercent ?? 0), 9);
  });

  it("what came off and what is missing make the load", () => {
    const mass = fc.double({ min: 0, max: 100, noNaN: true });
    fc.assert(
      fc.property(mass, mass, (a, b) => {
        const r = recoverMass([flask("P1", a), flask("P3", b)], POOLS, 200, null);
        expect(r.totalMg + (r.missingMg ?? 0)).toBeCloseTo(200, 6);
      }),
    );
  });

  it("asks above 105 %, and not at 105", () => {
    const at = (mg: number) => recoverMass([flask("P1", mg)], POOLS.slice(0, 1), 100, null).findings.map((f) => f.code);
    expect(at(104.9)).toEqual([]);
    expect(at(106)).toEqual(["recovery-above-load"]);
    const mixedUp = recoverMass([{ pool: "P1", flask: "1", tareG: 0, grossG: 170 }], POOLS.slice(0, 1), 250, null);
    expect(mixedUp.findings[0].message).toMatch(/mg typed for g/);
    expect(recoverMass([flask("P3", 300)], POOLS.slice(2, 3), null, BASIS).findings.map((f) => f.code)).toEqual([
      "yield-above-theory",
    ]);
  });

  it("names pools not weighed yet and pools nobody knows", () => {
    const r = recoverMass([flask("P1", 40), flask("X", 5)], POOLS, 250, null);
    expect(r.findings.map((f) => f.code)).toEqual(["pool-unknown", "pool-not-weighed"]);
    expect(r.totalMg).toBeCloseTo(45, 6);
    expect(recoverMass([], POOLS, null, null).missingMg).toBeNull();
  });

  it.each([
    [{ pool: "P1", flask: "1", tareG: 50.2, grossG: 50.1 }, "tare-above-gross"],
    [{ pool: "P1", flask: "1", tareG: -1, grossG: 50.1 }, "mass-negative"],
    [{ pool: "P1", flask: "1", tareG: 50, grossG: Number.NaN }, "mass-negative"],
    [{ pool: "P1", flask: "1", tareG: 45_123, grossG: 45_300 }, "mass-too-large"],
  ])("%j is %s", (weighing, code) => {
    expect(() => checkWeighing(weighing)).toThrow(expect.objectContaining({ code }));
  });

  it("a load, molar mass or amount that cannot be is refused", () => {
    expect(() => recoverMass([], POOLS, -250, null)).toThrow(/above 0/);
    expect(() => recoverMass([flask("P3", 1)], POOLS, 250, { ...BASIS, productMolarMass: 0 })).toThrow(/molar mass/);
    expect(() => recoverMass([flask("P3", 1)], POOLS, 250, { ...BASIS, limitingMmol: 0 })).toThrow(/mmol/);
    expect(() => recoverMass([flask("P3", 1)], POOLS, 250, { ...BASIS, ratio: -1 })).toThrow(/moles/);
  });
});
