import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { PlatepoolError } from "../../../src/model/index.ts";
import { planColumn } from "../../../src/planning/index.ts";
import { chalconeRequest } from "../support/run.ts";
import { runStages } from "../support/stages.ts";

const codes = (change: Parameters<typeof chalconeRequest>[0]) =>
  planColumn(chalconeRequest(change)).findings.map((f) => f.code);
const step = (fromMl: number, rf: Record<string, number>) => ({ eluent: null, fromMl, rf });
const rf = (values: Record<string, number>) => ({
  steps: [{ eluent: null, fromMl: 0, rf: values }],
  want: null,
  amounts: {},
});

describe("planning a column", () => {
  it("takes diameter, fraction and eluent from Still's table where load and Rf stand in it (from memory)", () => {
    const plan = planColumn(chalconeRequest({ loadMg: 400, ...rf({ A: 0.55, B: 0.35 }) }));
    expect(plan).toMatchObject({ diameterMm: 20, tableEluentMl: 200, loadLimitMg: 400 });
    expect(plan.fractionMl).toBeLessThanOrEqual(10);
    expect(planColumn(chalconeRequest({ loadMg: 401, ...rf({ A: 0.55, B: 0.35 }) })).diameterMm).toBe(30);
    expect(planColumn(chalconeRequest({ loadMg: 160, ...rf({ A: 0.45, B: 0.35 }) })).diameterMm).toBe(20);
  });

  it("the pair around the wanted component decides, not a closer one elsewhere", () => {
    const plan = planColumn(chalconeRequest({ ...rf({ A: 0.55, B: 0.35, C: 0.1, D: 0.06 }), want: "B" }));
    expect(plan.decisiveDeltaRf).toBeCloseTo(0.2, 9);
  });

  it("hold-up volume: measured where given, else of the bed", () => {
    const bed = planColumn(chalconeRequest({ diameterMm: 20 }));
    expect(bed.bedMl).toBeCloseTo(Math.PI * 15, 6);
    expect(bed.holdUpSource).toBe("bed");
    const measured = planColumn(chalconeRequest({ diameterMm: 20, holdUpMl: 30 }));
    expect(measured.holdUpSource).toBe("measured");
    expect(measured.bands[0].retentionMl).toBeCloseTo(30 / 0.55, 9);
  });

  it("gravity asks for coarser silica and three times the time", () => {
    const fast = planColumn(chalconeRequest());
    const slow = planColumn(chalconeRequest({ drive: "gravity" }));
    expect(slow.minutes / fast.minutes).toBeCloseTo(3, 9);
    expect(slow.particles).not.toBe(fast.particles);
  });

  const caught = { A: 0.5, B: 0.3, C: 0.05 };
  it.each([
    ["one eluent", chalconeRequest({ loadMg: 150 }).steps, 0.93],
    [
      "a step once the first is off",
      [step(0, { A: 0.5, B: 0.2, C: 0.05 }), step(120, { A: 0.9, B: 0.75, C: 0.4 })],
      0.9,
    ],
    ["a step that catches a band just as it leaves", [step(0, caught), step(90, { A: 0.9, B: 0.75, C: 0.4 })], 0.9],
    ["two steps", [step(0, { A: 0.3, B: 0.1 }), step(60, { A: 0.5, B: 0.3 }), step(160, { A: 0.9, B: 0.8 })], 0.9],
  ])("every collected component lands in the tubes named for it, by equilibrium stages: %s", (_, steps, least) => {
    const plan = planColumn(chalconeRequest({ loadMg: 150, steps, amounts: {}, want: null, holdUpMl: 40 }));
    expect(plan.bands.filter((b) => b.collected)).toHaveLength(Object.keys(steps[0].rf).length);
    for (const band of plan.bands) {
      const stages = Math.round(plan.plates * (1 - plan.request.steps[band.step].rf[band.component]));
      const run = runStages(band.component, plan.request.steps, plan.holdUpMl, stages);
      const leftBy = (ml: number) =>
        run.left[Math.max(0, Math.min(run.left.length - 1, Math.round(ml / run.mlPerTransfer) - 1))];
      const inside = leftBy(band.lastTube * plan.fractionMl) - leftBy((band.firstTube - 1) * plan.fractionMl);
      expect(inside).toBeGreaterThan(least);
    }
  });

  it("a step that comes too late leaves the slow one on the column; in time brings it off", () => {
    const slow = { A: 0.5, B: 0.35, C: 0.02 };
    expect(codes({ ...rf(slow) })).toContain("stays-on-column");
    const steps = [
      { eluent: "hexane/ethyl acetate 4:1", fromMl: 0, rf: slow },
      { eluent: "hexane/ethyl acetate 1:2", fromMl: 170, rf: { A: 0.9, B: 0.8, C: 0.45 } },
    ];
    const plan = planColumn(chalconeRequest({ steps, amounts: {}, diameterMm: 20 }));
    expect(plan.findings.map((f) => f.code)).not.toContain("stays-on-column");
    expect(plan.bands[2]).toMatchObject({ component: "C", step: 1, collected: true });
    expect(plan.bands[2].retentionMl).toBeGreaterThan(170);
    expect(plan.eluents.map((e) => e.fromMl)).toEqual([0, 170]);
  });

  it("amounts of all tubes make the whole load, whatever the plan", () => {
    const value = fc.double({ min: 0.12, max: 0.7, noNaN: true });
    fc.assert(
      fc.property(value, value, fc.double({ min: 5, max: 2000, noNaN: true }), (a, b, loadMg) => {
        const plan = planColumn(chalconeRequest({ ...rf({ A: a, B: b }), loadMg }));
        const sum = plan.tubes.reduce((s, tube) => s + tube.amount, 0);
        expect(sum).toBeGreaterThan(0.97);
        expect(sum).toBeLessThan(1.001);
        for (let i = 1; i < plan.tubes.length; i++)
          expect(plan.tubes[i].startMl).toBeCloseTo(plan.tubes[i - 1].endMl, 6);
      }),
      { numRuns: 40 },
    );
  });
});

describe("warnings (University of York, Chemistry teaching labs: 0.15 apart, slowest 0.15, fastest 0.60)", () => {
  it.each([
    [{ A: 0.6, B: 0.45, C: 0.3 }, []],
    [{ A: 0.61, B: 0.35 }, ["rf-too-high"]],
    [{ A: 0.5, B: 0.14 }, ["rf-too-low"]],
    [{ A: 0.5, B: 0.37 }, ["pair-close"]],
    [{ A: 0.5, B: 0.41 }, ["pair-too-close"]],
  ])("%j: %j", (values, expected) => {
    expect(codes({ ...rf(values), loadMg: 50 })).toEqual(expected);
  });

  it("says what to do about an overload, a rack too small and a diameter outside the table", () => {
    expect(codes({ diameterMm: 10 })).toContain("overload");
    expect(codes({ diameterMm: 8, loadMg: 10 })).toContain("outside-table");
    const plan = planColumn(chalconeRequest({ rack: { rows: 2, columns: 5, fill: "rows", start: "top-left" } }));
    const finding = plan.findings.find((f) => f.code === "rack-too-small");
    expect(finding?.message).toMatch(/holds 10/);
    expect(finding?.remedy).toMatch(/flask/);
  });
});

describe("what cannot be is refused in one line", () => {
  it.each([
    [{ loadMg: -5 }, "mass-not-positive"],
    [{ loadMg: Number.NaN }, "mass-not-positive"],
    [{ loadMg: 2.5e6 }, "mass-too-large"],
    [rf({ A: 35 }), "rf-out-of-range"],
    [rf({}), "no-rf"],
    [{ steps: [] }, "no-eluent"],
    [{ want: "Z" }, "wanted-unknown"],
    [{ diameterMm: 0 }, "quantity-not-positive"],
    [{ holdUpMl: -3 }, "quantity-not-positive"],
    [{ fractionMl: 1e6 }, "quantity-too-large"],
    [{ forerunMl: -1 }, "forerun-negative"],
    [{ rack: { rows: 0, columns: 5, fill: "rows", start: "top-left" } as const }, "rack-impossible"],
    [{ amounts: { A: -1 } }, "amount-negative"],
  ])("%j", (change, code) => {
    try {
      planColumn(chalconeRequest(change));
      expect.unreachable();
    } catch (error) {
      expect(error).toBeInstanceOf(PlatepoolError);
      expect((error as PlatepoolError).code).toBe(code);
      expect((error as PlatepoolError).message).not.toMatch(/\n/);
    }
  });

  it("steps must follow each other and know every component", () => {
    const first = chalconeRequest().steps[0];
    expect(() => planColumn(chalconeRequest({ steps: [first, { ...first, fromMl: 0 }] }))).toThrow(/later/);
    expect(() => planColumn(chalconeRequest({ steps: [first, { ...first, fromMl: 90, rf: { A: 0.9 } }] }))).toThrow(
      /B has no Rf/,
    );
    expect(() =>
      planColumn(chalconeRequest({ steps: [first, { ...first, fromMl: 90, rf: { ...first.rf, X: 0.4 } }] })),
    ).toThrow(/X has an Rf/);
  });
});

describe("a measured hold-up volume", () => {
  it("that the bed cannot hold is asked about", () => {
    expect(codes({ diameterMm: 20, holdUpMl: 10 })).toContain("hold-up-odd");
    expect(codes({ diameterMm: 20, holdUpMl: 60 })).toContain("hold-up-odd");
    expect(codes({ diameterMm: 20, holdUpMl: 36 })).not.toContain("hold-up-odd");
  });
});
