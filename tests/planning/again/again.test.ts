import { describe, expect, it } from "vitest";
import { checkPlan, mixedPool, planAgain } from "../../../src/planning/index.ts";
import { inventedRun } from "../support/run.ts";

const { plan, result } = inventedRun();
const input = { result, first: plan, check: null, weighedMg: null, givenMg: null, firstLoadMg: 250, want: "B" };

describe("running the mixed pool again", () => {
  it("holds the components of the pool, in the proportion the plates show", () => {
    const pool = mixedPool(result, null);
    const run = planAgain(pool, { ...input, weighedMg: 30 });
    expect(run).toMatchObject({ pool: pool.id, loadMg: 30, loadSource: "weighed" });
    expect(run.plan.bands.map((band) => band.component)).toEqual(pool.components);
    expect(run.plan.bands.reduce((sum, band) => sum + band.share, 0)).toBeCloseTo(1, 9);
    expect(run.plan.diameterMm).toBeLessThanOrEqual(plan.diameterMm);
  });

  it("estimates the mass from the spots where nobody weighed, and says so", () => {
    const run = planAgain(mixedPool(result, null), input);
    expect(run.loadSource).toBe("estimated");
    expect(run.loadMg).toBeGreaterThan(0);
    expect(run.loadMg).toBeLessThan(250);
    expect(run.reasons.join()).toMatch(/weigh the pool/);
    expect(() => planAgain(mixedPool(result, null), { ...input, firstLoadMg: null })).toThrow(/--load/);
  });

  it("corrects Rf by what the first column showed", () => {
    const weak = inventedRun({
      steps: [{ eluent: null, fromMl: 0, rf: { A: 0.45, B: 0.28, C: 0.14 } }],
      fractionMl: plan.fractionMl,
    });
    const late = inventedRun(
      {},
      { amount: (id, tube) => (weak.plan.tubes[tube - 1].composition[id] ?? 0) * weak.plan.tubes[tube - 1].amount },
    );
    const check = checkPlan(late.plan, late.result, late.log, null);
    const again = { ...input, result: late.result };
    const before = planAgain(mixedPool(late.result, null), again).plan.request.steps[0].rf;
    const after = planAgain(mixedPool(late.result, null), { ...again, check }).plan.request.steps[0].rf;
    for (const id of Object.keys(before)) expect(after[id]).toBeLessThan(before[id]);
  });

  it("leaves Rf as on the plate where what the first column showed cannot be trusted", () => {
    const check = { ...checkPlan(plan, result, inventedRun().log, null), kRatio: 0.2 };
    const spoilt = { code: "before-hold-up", message: "", remedy: "", where: {} };
    const off = planAgain(mixedPool(result, null), { ...input, check: { ...check, findings: [spoilt] } });
    const unseen = planAgain(mixedPool(result, null), { ...input, check: null });
    expect(off.plan.request.steps).toEqual(unseen.plan.request.steps);
    expect(off.reasons.join(" ")).toMatch(/cannot be trusted/);
  });

  it("knows the pool by name, and says when there is none or nothing mixed", () => {
    expect(mixedPool(result, result.pools[0].id.toLowerCase()).id).toBe(result.pools[0].id);
    expect(() => mixedPool(result, "P99")).toThrow(/no pool "P99"/);
    expect(() => mixedPool({ ...result, pools: result.pools.filter((p) => p.kind !== "mixed") }, null)).toThrow(
      /nothing has to be run again/,
    );
  });
});
