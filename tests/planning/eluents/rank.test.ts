import { describe, expect, it } from "vitest";
import type { ScoutTrial } from "../../../src/model/index.ts";
import { fitRetention } from "../../../src/planning/eluents/fit.ts";
import { parseEluent, rankEluents } from "../../../src/planning/index.ts";
import { ALDOL, CHALCONE, hexaneTrial, KETONE, rfOf, spot } from "../support/scouting.ts";

const ALL = [KETONE, CHALCONE, ALDOL];

describe("ranking eluents", () => {
  it("prefers the one that brings the wanted spot to a third of the way", () => {
    const ranking = rankEluents(
      [5, 20, 60].map((p) => hexaneTrial(p, ALL, true)),
      "chalcone",
    );
    expect(ranking.components).toEqual([
      { id: "A", name: null },
      { id: "B", name: "chalcone" },
      { id: "C", name: null },
    ]);
    expect(ranking.wanted).toBe("B");
    expect(ranking.trials[0].eluent.text).toBe("20 % ethyl acetate in hexane");
    const rfs = ranking.trials.map((trial) => trial.spots.find((s) => s.component === "B")!.rf);
    expect(rfs[0]).toBeCloseTo(rfOf(CHALCONE, 0.2), 9);
    expect(ranking.trials.map((trial) => trial.rank)).toEqual([1, 2, 3]);
  });

  it("gives the figures of the closest pair: Rf difference, Ph. Eur. resolution, column volumes 1/Rf - 1/Rf", () => {
    const trial: ScoutTrial = {
      eluent: parseEluent("toluene"),
      lanes: [{ plate: "p", lane: 1, label: "crude", spots: [spot(0.5, 1), spot(0.4, 2), spot(0.2, 1)] }],
    };
    const best = rankEluents([trial], "B").trials[0];
    expect(best.closest).toMatchObject({ fast: "A", slow: "B", deltaRf: 0.1 });
    expect(best.closest?.resolution).toBeCloseTo((1.18 * 0.1) / 0.1, 9);
    expect(best.closest?.columnVolumes).toBeCloseTo(0.5, 9);
    expect(best.workable).toBe(false);
    expect(best.spots.map((s) => s.columnVolumes)).toEqual([2, 2.5, 5]);
  });

  it("calls workable what York calls so: 0.15 apart, between 0.15 and 0.60", () => {
    const at = (...rfs: number[]): ScoutTrial => ({
      eluent: parseEluent("toluene"),
      lanes: [{ plate: "p", lane: 1, label: "crude", spots: rfs.map((rf, i) => spot(rf, i === 1 ? 3 : 1)) }],
    });
    expect(rankEluents([at(0.5, 0.35, 0.2)], "B").trials[0].workable).toBe(true);
    expect(rankEluents([at(0.49, 0.35, 0.2)], "B").trials[0].workable).toBe(false);
    expect(rankEluents([at(0.9, 0.61, 0.2)], "B").trials[0].workable).toBe(false);
    expect(rankEluents([at(0.5, 0.14)], "B").trials[0].workable).toBe(false);
  });

  it("knows the same substance again where Rf moved and one spot is missing", () => {
    const weak = hexaneTrial(10, ALL);
    const strong = hexaneTrial(30, [CHALCONE, ALDOL]);
    const ranking = rankEluents([weak, strong], null);
    const seen = ranking.trials.find((t) => t.eluent === strong.eluent)!;
    expect(seen.spots.map((s) => s.component)).toEqual(["B", "C"]);
  });

  it("an eluent in which the pair falls together ranks last, and says what hides", () => {
    const apart = hexaneTrial(15, ALL);
    const together: ScoutTrial = {
      eluent: parseEluent("dichloromethane"),
      lanes: [{ plate: "d", lane: 1, label: "crude", spots: [spot(0.35, 0.9), spot(0.08, 0.1)] }],
    };
    const ranking = rankEluents([together, apart], null);
    expect(ranking.trials[0].eluent).toBe(apart.eluent);
    expect(ranking.trials[1].workable).toBe(false);
    expect(ranking.trials[1].reason).toMatch(/not seen apart/);
  });

  it("a tailing spot costs rank", () => {
    const even = hexaneTrial(20, ALL);
    const tailed: ScoutTrial = {
      eluent: parseEluent("toluene/ether 1:1"),
      lanes: [{ ...even.lanes[0], plate: "t", spots: even.lanes[0].spots.map((s) => ({ ...s, tailing: 3 })) }],
    };
    const ranking = rankEluents([tailed, even], null);
    expect(ranking.trials[0].eluent).toBe(even.eluent);
    expect(ranking.trials[1].reason).toMatch(/tails/);
  });
});

describe("what to try next", () => {
  it("finds, from three compositions that follow the law, the share that truly brings the wanted spot to where it says", () => {
    const ranking = rankEluents(
      [3, 6, 10].map((p) => hexaneTrial(p, ALL)),
      "B",
    );
    const next = ranking.next[0];
    expect(next.direction).toBe("stronger");
    expect(next.measured).toBe(true);
    const expected = next.expected.find((s) => s.component === "B")!.rf;
    expect(Math.abs(rfOf(CHALCONE, next.share) - expected)).toBeLessThan(0.02);
    expect(rfOf(CHALCONE, next.share)).toBeGreaterThan(rfOf(CHALCONE, 0.1));
    expect(next.share).toBeLessThanOrEqual(0.2 + 1e-9);
  });

  it("goes weaker where everything runs with the front", () => {
    const next = rankEluents(
      [60, 80].map((p) => hexaneTrial(p, ALL)),
      "B",
    ).next[0];
    expect(next.direction).toBe("weaker");
    expect(rfOf(CHALCONE, next.share)).toBeLessThan(0.6);
  });

  it("has a rule of thumb for one composition alone, and says that it is one", () => {
    const next = rankEluents([hexaneTrial(5, ALL)], "B").next[0];
    expect(next.direction).toBe("stronger");
    expect(next.measured).toBe(false);
    expect(next.reason).toMatch(/rule of thumb/);
  });

  it("learns from the plates which of two unknown solvents is the stronger", () => {
    const trial = (percent: number): ScoutTrial => {
      const t = hexaneTrial(percent, ALL);
      return { ...t, eluent: parseEluent(`solvent X/solvent Y ${percent}:${100 - percent}`) };
    };
    const next = rankEluents([trial(3), trial(8)], "B").next[0];
    expect(next.strong).toBe("solvent x");
    expect(next.direction).toBe("stronger");
  });

  it("is silent where the eluent is right already", () => {
    const slow = { ...ALDOL, a: 1.2 };
    const ranking = rankEluents(
      [15, 21, 30].map((p) => hexaneTrial(p, [CHALCONE, slow])),
      "A",
    );
    expect(ranking.trials[0].spots[0].rf).toBeCloseTo(0.35, 1);
    expect(ranking.next).toEqual([]);
    expect(ranking.findings).toEqual([]);
  });
});

describe("ln k over the composition", () => {
  it("recovers a line in the share and a line in its logarithm, each to 0.01 in Rf", () => {
    const linear = (share: number) => 1 / (1 + Math.exp(3 - 12 * share));
    const law = fitRetention([0.05, 0.15, 0.25].map((share) => ({ share, rf: linear(share) })));
    expect(Math.abs(law.at(0.2).rf - linear(0.2))).toBeLessThan(0.01);
    expect(Math.abs(law.at(0.32).rf - linear(0.32))).toBeLessThan(0.01);
    const logged = fitRetention([0.05, 0.1, 0.2].map((share) => ({ share, rf: rfOf(CHALCONE, share) })));
    expect(Math.abs(logged.at(0.4).rf - rfOf(CHALCONE, 0.4))).toBeLessThan(0.01);
  });

  it("two compositions leave a range, wider the farther away", () => {
    const law = fitRetention([0.1, 0.2].map((share) => ({ share, rf: rfOf(CHALCONE, share) })));
    const width = (share: number) => law.at(share).high - law.at(share).low;
    expect(width(0.15)).toBeLessThan(width(0.4));
    expect(law.at(0.15).low).toBeLessThanOrEqual(law.at(0.15).rf);
    expect(law.at(0.15).high).toBeGreaterThanOrEqual(law.at(0.15).rf);
  });
});

describe("step gradient", () => {
  it("is suggested where the wanted one runs and another stays put, and changes after the last runner", () => {
    const slow = { name: "acid", a: 2.2, n: 1.4, amount: 0.2 };
    const ranking = rankEluents(
      [15, 60].map((p) => hexaneTrial(p, [KETONE, CHALCONE, slow])),
      "B",
    );
    expect(ranking.trials[0].eluent.text).toMatch(/^15 %/);
    expect(ranking.step?.staysPut).toEqual(["C"]);
    expect(ranking.step?.changeAtColumnVolumes).toBeGreaterThan(1 / rfOf(CHALCONE, 0.15));
    expect(ranking.step?.reason).toMatch(/stays put/);
  });

  it("is not where everything runs", () => {
    expect(rankEluents([hexaneTrial(20, [KETONE, CHALCONE])], "B").step).toBeNull();
  });
});

describe("bad input", () => {
  it("no plates, an Rf outside 0..1, an unknown wanted component: one clear line each", () => {
    expect(() => rankEluents([], null)).toThrow(/eluent:/);
    const bad: ScoutTrial = {
      eluent: parseEluent("toluene"),
      lanes: [{ plate: "p", lane: 1, label: "crude", spots: [spot(1.2, 1)] }],
    };
    expect(() => rankEluents([bad], null)).toThrow(/between 0 and 1/);
    expect(() => rankEluents([hexaneTrial(20, ALL, true)], "ester")).toThrow(/B \(chalcone\)/);
  });

  it("a plate with nothing on it is told, the others are ranked", () => {
    const blank: ScoutTrial = {
      eluent: parseEluent("hexane"),
      lanes: [{ plate: "h", lane: 1, label: "crude", spots: [] }],
    };
    const ranking = rankEluents([blank, hexaneTrial(20, ALL)], null);
    expect(ranking.findings.map((f) => f.code)).toContain("eluent-shows-nothing");
    expect(ranking.trials).toHaveLength(2);
    expect(ranking.trials[1].eluent.text).toBe("hexane");
  });
});
