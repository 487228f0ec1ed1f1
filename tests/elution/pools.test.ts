import { describe, expect, it } from "vitest";
import type { Belief } from "../../src/elution/belief.ts";
import { judgeTubes } from "../../src/elution/judge.ts";
import { cheapestPools, LOSSES, lossRow, placeLoss } from "../../src/elution/loss.ts";
import { plainOdds, stateOf, type TubeOdds, tubeOdds } from "../../src/elution/odds.ts";
import { afterMissing } from "../../src/elution/profiles/censored.ts";
import { seededRandom } from "../../src/math/random.ts";
import { decide, decideDrawn } from "./support/decide.ts";
import { sketchedPlate } from "./support/drawing.ts";

const none = { logMean: -9, logSd: 1, visible: 0 };
const perhaps = (chance: number, logMean: number, logSd: number): Belief => ({
  chance,
  spot: { logMean, logSd, visible: 1 },
  rest: none,
});
const sure = (amount: number) => perhaps(0.999, Math.log(amount), 0.05);
const absent = perhaps(0, 0, 1);

describe("odds of a tube", () => {
  it("follow the 95 % line", () => {
    expect(stateOf(tubeOdds([sure(100), sure(1)]))).toEqual({ state: "clean", main: 0 });
    expect(stateOf(tubeOdds([sure(100), sure(20)])).state).toBe("mixed");
    expect(stateOf(tubeOdds([absent, absent])).state).toBe("empty");
  });

  it("are even right on the line, whatever the noise", () => {
    const odds = tubeOdds([sure(95), sure(5)]);
    expect(odds.clean[0]).toBeCloseTo(0.5, 2);
  });

  it("sum to 1 with a chance for every set", () => {
    const odds = tubeOdds([perhaps(0.7, 0, 0.4), perhaps(0.4, -1, 0.6), absent]);
    expect(odds.clean.reduce((s, p) => s + p, 0) + odds.mixed + odds.empty).toBeCloseTo(1, 12);
    expect(odds.empty).toBeCloseTo(0.3 * 0.6, 12);
    expect(odds.share.reduce((s, p) => s + p, 0)).toBeCloseTo(1, 12);
  });
});

describe("odds of a tube were it not close to a line", () => {
  const doubtful = (share: number): Belief => perhaps(0.999, Math.log(share), 0.4);

  it("sum to 1 and keep what is likelier", () => {
    for (const share of [0.01, 0.03, 0.2, 1]) {
      const all = tubeOdds([sure(1), doubtful(share), absent]);
      const plain = plainOdds([sure(1), doubtful(share), absent]);
      expect(plain.clean.reduce((s, p) => s + p, 0) + plain.mixed + plain.empty).toBeCloseTo(1, 12);
      expect(stateOf(plain)).toEqual(stateOf(all));
    }
  });

  it("are surer where only the share is in doubt, and as unsure where it is whether there is a spot at all", () => {
    const byShare = [sure(1), doubtful(0.03)];
    expect(tubeOdds(byShare).mixed).toBeGreaterThan(0.15);
    expect(plainOdds(byShare).mixed).toBeLessThan(0.6 * tubeOdds(byShare).mixed);
    const bySpot = [sure(1), perhaps(0.3, 0, 0.1)];
    expect(plainOdds(bySpot).mixed).toBeCloseTo(tubeOdds(bySpot).mixed, 1);
  });

  it("give way to what the others tell where the plate may have been misread", () => {
    const tube = {
      number: 1,
      seen: true,
      components: [absent],
      evidence: [],
      silent: true,
      forgotten: 0,
      claimed: false,
    };
    const of = (misread: number) => judgeTubes([tube], [[perhaps(0.98, 0, 0.2)]], [misread]).weighed[0];
    expect(of(0).empty).toBeGreaterThan(0.99);
    expect(of(0.3).empty).toBeCloseTo(0.7 + 0.3 * 0.02, 2);
    expect(of(0.3).clean[0]).toBeCloseTo(0.3 * 0.98, 2);
  });
});

describe("what is there without a spot", () => {
  const faint = (share: number): Belief => ({
    chance: 0,
    spot: { logMean: 0, logSd: 0.3, visible: 1 },
    rest: { logMean: Math.log(share), logSd: 0.3, visible: 0 },
  });

  it("makes a tube mixed only as far as it would be visible", () => {
    const likely = faint(0.15);
    const seen = { ...likely, rest: { ...likely.rest, visible: 0.8 } };
    expect(stateOf(tubeOdds([sure(1), seen])).state).toBe("mixed");
    expect(tubeOdds([sure(1), seen]).mixed).toBeGreaterThan(0.7);
    expect(stateOf(tubeOdds([sure(1), likely]))).toEqual({ state: "clean", main: 0 });
  });

  it("makes no tube full", () => {
    expect(stateOf(tubeOdds([absent, faint(0.15)])).state).toBe("empty");
  });

  it("is the expected amount cut off where it would have been found", () => {
    const far = afterMissing(-3, 0.4, 0, 0);
    expect(far.logMean).toBeCloseTo(-3, 2);
    expect(far.logSd).toBeCloseTo(0.4, 2);
    const near = afterMissing(0, 0.6, 0, 0);
    expect(near.logMean).toBeLessThan(-0.2);
    expect(near.logSd).toBeLessThan(0.6);
    expect(near.visible).toBeLessThan(0.4);
  });
});

describe("pools of least loss", () => {
  it("are the cheapest of all cuttings into labelled neighbours, up to 8 tubes", () => {
    const u = seededRandom(5);
    for (let n = 1; n <= 8; n++) {
      const odds = Array.from({ length: n }, (): TubeOdds => {
        const parts = [u() ** 3, u() ** 3, u() ** 3, u() ** 3];
        const sum = parts.reduce((s, p) => s + p, 0);
        return {
          clean: [parts[0] / sum, parts[1] / sum],
          mixed: parts[2] / sum,
          empty: parts[3] / sum,
          share: [0.5, 0.5],
        };
      });
      const loss = LOSSES.balance;
      const found = cheapestPools(
        odds,
        odds.map((o) => lossRow(o, loss, [1, 1])),
        loss,
      );
      let best = Number.POSITIVE_INFINITY;
      for (let code = 0; code < 4 ** n; code++) {
        const labels = Array.from({ length: n }, (_, t) => Math.floor(code / 4 ** t) % 4);
        const cost = labels.reduce(
          (s, l, t) => s + placeLoss(odds[t], l, loss, [1, 1]) + (t === 0 || labels[t - 1] !== l ? loss.flask : 0),
          0,
        );
        best = Math.min(best, cost);
      }
      expect(found.cost).toBeCloseTo(best, 9);
    }
  });

  it("puts the mixed tubes between two components apart", () => {
    const { value } = decideDrawn(`
      rf   1 2 3 4 5 6 7 8
      0.60 . 4 7 7 5 . . .
      0.35 . . . 4 7 7 3 .
    `);
    expect(value.pools.map((p) => [p.kind, p.fractions.join()])).toEqual([
      ["empty", "1"],
      ["clean", "2,3"],
      ["mixed", "4,5"],
      ["clean", "6,7"],
      ["empty", "8"],
    ]);
    expect(value.pools.map((p) => p.id)).toEqual(["1", "2", "3", "4", "5"]);
    expect(value.pools[1].reason).toBe("Tubes 2 and 3 show only A (Rf 0.60); one spot is not proof of purity.");
    expect(value.pools[2].components).toEqual(["A", "B"]);
    expect(value.pools[1].volumeMl).toBe(20);
    expect(value.pools[1].evidence).toEqual([
      { plate: "P1", lane: 2 },
      { plate: "P1", lane: 3 },
    ]);
  });

  it("keeps mixed tubes without a component in common apart", () => {
    const { value } = decideDrawn(`
      rf   1 2 3 4
      0.80 7 7 . .
      0.65 7 6 . .
      0.40 . . 7 6
      0.20 . . 6 7
    `);
    expect(value.pools.filter((p) => p.kind === "mixed").map((p) => p.fractions)).toEqual([
      [1, 2],
      [3, 4],
    ]);
  });

  it("takes tubes nobody spotted with their neighbours and says so", () => {
    const { value } = decideDrawn(`
      rf   1 3 5 7 9
      0.50 4 7 8 6 3
    `);
    expect(value.fractions[3]).toMatchObject({ number: 4, seen: false, state: "clean", composition: { A: 1 } });
    const beside = [value.fractions[2], value.fractions[4]].map((f) => f.confidence);
    expect(value.fractions[3].confidence).toBeLessThanOrEqual(Math.max(...beside));
    expect(value.fractions[3].reason).toBe("Nobody spotted tube 4; it is placed by its neighbours.");
    expect(value.pools[0].reason).toContain("were not spotted");
  });

  it("does not break a run for one spot overlooked", () => {
    const { value } = decideDrawn(`
      rf   1 2 3 4 5 6 7
      0.50 5 7 8 . 8 7 5
    `);
    expect(value.pools.map((p) => p.fractions)).toEqual([[1, 2, 3, 4, 5, 6, 7]]);
    expect(value.pools[0].reason).toContain("Tube 4 shows nothing");
  });

  it("is not misled by dust", () => {
    const lanes = [1, 2, 3, 4, 5].map((n) => ({ label: String(n), spots: [{ rf: 0.4, amount: 20 }] }));
    lanes[2].spots.push({ rf: 0.75, amount: 1.5, confidence: 0.35 } as never);
    const { value } = decide([sketchedPlate("P1", lanes)]);
    expect(value.fractions[2].state).toBe("clean");
    expect(value.assignments.filter((a) => a.component === null)).toHaveLength(1);
  });

  it("trades purity for recovery", () => {
    const { value } = decideDrawn(`
      rf   1 2 3 4 5 6 7 8
      0.60 5 8 9 7 4 . . .
      0.35 . . . 1 3 8 8 5
    `);
    const [purity, , recovery] = value.policies;
    expect(value.policies.map((p) => p.policy)).toEqual(["purity", "balance", "recovery"]);
    expect(recovery.recovery.mid).toBeGreaterThanOrEqual(purity.recovery.mid);
    for (const p of value.policies) {
      expect(p.purity.low).toBeLessThanOrEqual(p.purity.mid);
      expect(p.recovery.mid).toBeLessThanOrEqual(p.recovery.high);
    }
  });

  it("counts purity and recovery of the wanted component alone", () => {
    const drawing = `
      rf   1 2 3 4 5 6 7 8
      0.60 5 8 9 7 6 6 . .
      0.35 . . . . 7 8 8 5
    `;
    const balance = (want: string | null) => decideDrawn(drawing, { want }).value.policies[1].recovery.mid;
    // Half of B stands in mixed tubes, of A less.
    expect(balance("A")).toBeGreaterThan(balance(null));
    expect(balance("0.36")).toBeLessThan(balance(null));
  });
});
