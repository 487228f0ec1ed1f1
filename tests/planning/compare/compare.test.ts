import { describe, expect, it } from "vitest";
import { checkPlan } from "../../../src/planning/index.ts";
import { inventedRun, type ResultChanges } from "../support/run.ts";

const check = (changes: ResultChanges = {}, request = {}) => {
  const { plan, result, log } = inventedRun(request, changes);
  return { plan, result, check: checkPlan(plan, result, log, plan.request.rack) };
};
const codes = (c: ReturnType<typeof check>) => c.check.findings.map((f) => f.code);

/** What a plan lets expect in a tube, read from another plan: planned amounts by component and tube. */
function amountsOf(request: Parameters<typeof inventedRun>[0]) {
  const { plan } = inventedRun(request);
  return (id: string, tube: number) =>
    (plan.tubes[tube - 1]?.composition[id] ?? 0) * (plan.tubes[tube - 1]?.amount ?? 0);
}

describe("plan and photos", () => {
  it("agree where the column did what was planned", () => {
    const c = check();
    expect(codes(c)).toEqual([]);
    expect(c.check.pairsInOrder).toBe(3);
    expect(c.check.kRatio).toBeCloseTo(1, 1);
    // A tube at the 95 % line may fall to either side.
    expect(c.check.tubes.filter((t) => t.verdict !== "agree").length).toBeLessThanOrEqual(1);
    for (const band of c.check.bands) expect(band.widthRatio).toBeCloseTo(1, 0);
  });

  it("a stronger eluent brings everything early", () => {
    const strong = amountsOf({
      steps: [{ eluent: null, fromMl: 0, rf: { A: 0.75, B: 0.58, C: 0.36 } }],
      fractionMl: 8,
    });
    const c = check({ amount: (id, tube) => strong(id, tube) }, { fractionMl: 8 });
    expect(codes(c)).toContain("eluent-not-as-planned");
    expect(c.check.findings[0].message).toMatch(/early.*stronger/);
    expect(c.check.kRatio).toBeLessThan(0.6);
  });

  it("a weaker one brings everything late", () => {
    const c = check(
      {
        amount: (id, tube) =>
          amountsOf({ fractionMl: 8, steps: [{ eluent: null, fromMl: 0, rf: { A: 0.43, B: 0.26, C: 0.13 } }] })(
            id,
            tube,
          ),
      },
      { fractionMl: 8, forerunMl: 0, steps: [{ eluent: null, fromMl: 0, rf: { A: 0.55, B: 0.37, C: 0.2 } }] },
    );
    // The last component is cut off by the last tube; the first two still tell.
    expect(codes(c)).toContain("eluent-not-as-planned");
    expect(c.check.findings[0].message).toMatch(/late.*weaker/);
  });

  it("a channelled bed shows as two humps of every component", () => {
    // Half of everything finds a crack and comes after 60 % of its volume.
    const { plan } = inventedRun();
    const c = check({
      amount: (id, tube, planned) => {
        const later = plan.tubes[Math.round(tube / 0.6) - 1];
        return 0.5 * planned + 0.5 * (later?.composition[id] ?? 0) * (later?.amount ?? 0);
      },
    });
    expect(codes(c)).toContain("bed-channelled");
    expect(c.check.bands.every((band) => band.humps >= 2)).toBe(true);
  });

  it("long tails of every component are the same sign; of one alone they are not", () => {
    const tail = (which: string[]) => (id: string, tube: number, planned: number) => {
      const { plan } = inventedRun();
      const peak = plan.bands.find((b) => b.component === id)!;
      return which.includes(id) && tube > peak.peakTube
        ? Math.max(planned, 0.25 * peak.share * Math.exp(-(tube - peak.peakTube) / 6))
        : planned;
    };
    expect(codes(check({ amount: tail(["A", "B", "C"]) }))).toContain("bed-channelled");
    expect(codes(check({ amount: tail(["A"]) }))).not.toContain("bed-channelled");
  });

  it("what comes before the hold-up volume puts that volume in question, not the bed at once", () => {
    const { plan, result, log } = inventedRun();
    const check = checkPlan({ ...plan, holdUpMl: 2 * plan.holdUpMl }, result, log, null);
    expect(check.findings.map((f) => f.code)).toContain("before-hold-up");
    expect(check.findings.map((f) => f.code)).not.toContain("bed-channelled");
  });

  it("a rack turned round is told, not taken for a bad eluent", () => {
    const { plan } = inventedRun();
    const n = plan.tubes.length;
    const c = check({
      amount: (id, tube) => (plan.tubes[n - tube].composition[id] ?? 0) * plan.tubes[n - tube].amount,
    });
    expect(codes(c)).toEqual(["tubes-swapped"]);
    expect(c.check.findings[0].message).toMatch(/turned round/);
  });

  it("racks that changed places are told", () => {
    const rack = { rows: 2, columns: 6, fill: "rows", start: "top-left" } as const;
    const { plan } = inventedRun({ rack });
    const n = plan.tubes.length;
    expect(n).toBeGreaterThan(12);
    // Tubes 13 ... n were taken for the first ones.
    const real = (tube: number) => (tube <= n - 12 ? tube + 12 : tube - (n - 12));
    const c = check(
      { amount: (id, tube) => (plan.tubes[real(tube) - 1].composition[id] ?? 0) * plan.tubes[real(tube) - 1].amount },
      { rack },
    );
    expect(codes(c)).toContain("tubes-swapped");
    expect(c.check.findings[0].message).toMatch(/changed places/);
  });

  it("where both disagree on a tube that was seen, the photos win; where nobody looked, the plan helps", () => {
    const { plan } = inventedRun();
    const between = plan.tubes.find((t) => t.state === "mixed")!.number;
    const c = check({ amount: (id, tube, planned) => (tube === between ? (id === "B" ? planned : 0) : planned) });
    expect(c.check.tubes[between - 1]).toMatchObject({ photos: "clean", plan: "mixed", verdict: "photos-win" });
    const blind = check({
      amount: (id, tube, planned) => (tube === between ? (id === "B" ? planned : 0) : planned),
      seen: (tube) => tube !== between,
    });
    expect(blind.check.tubes[between - 1].verdict).toBe("plan-helps");
  });

  it("names what was planned and never came, and what came unplanned", () => {
    const gone = check({ amount: (id, _, planned) => (id === "C" ? 0 : planned) });
    expect(codes(gone)).toContain("planned-not-found");
    const { plan, result, log } = inventedRun();
    const fewer = { ...plan, bands: plan.bands.filter((b) => b.component !== "C") };
    expect(checkPlan(fewer, result, log, null).findings.map((f) => f.code)).toContain("found-not-planned");
  });
});
