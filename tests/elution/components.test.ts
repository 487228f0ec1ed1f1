import { type AgglomerationMethod, agnes } from "ml-hclust";
import { describe, expect, it } from "vitest";
import { groupSpots } from "../../src/elution/components/index.ts";
import reference from "./reference/reference.json" with { type: "json" };
import { adjustedRand } from "./support/agreement.ts";
import { drawnPlates, sketchedPlate } from "./support/drawing.ts";
import { LEVELS } from "./support/levels.ts";
import { simulateRun } from "./support/simulate.ts";

/** Component of each spot in the order of lanes and spots, -1 for none. */
function groups(plates: Parameters<typeof groupSpots>[0]): number[] {
  return groupSpots(plates).lanes.flatMap((lane) =>
    lane.spots.map((s) => {
      const best = s.alone.indexOf(Math.max(...s.alone));
      return s.alone[best] > 0.5 ? best : -1;
    }),
  );
}

describe("components", () => {
  it.each(reference.mixtures.map((m, i) => ({ ...m, i })))(
    "are those of scikit-learn's mixture on an even plate, case $i",
    ({ spots, means, labels }) => {
      const lanes = spots.map((s) => ({ label: String(s.tube), spots: [{ rf: s.rf, amount: 20 }] }));
      const plates = [sketchedPlate("P1", lanes)];
      const found = groupSpots(plates);
      expect(found.rf).toHaveLength(means.length);
      // The plate's own scale is free; on an even plate it should hardly move.
      found.rf.forEach((rf, k) => {
        expect(Math.abs(rf - means[k])).toBeLessThan(0.006);
      });
      expect(adjustedRand(groups(plates), labels)).toBe(1);
    },
  );

  it("are those of hierarchical clustering on easy data", () => {
    // Independent second opinion: ml-hclust, average linkage on Rf, cut at the true number.
    for (const seed of [11, 12, 13, 14, 15, 16]) {
      const easy = {
        ...LEVELS[0],
        plateShift: 0,
        plateStretch: 0,
        plateBow: 0,
        plateTilt: 0,
        closeChance: 0,
        falseSpots: 0,
        merge: 0,
      };
      const run = simulateRun(seed, easy);
      const rf = run.plates.flatMap((p) =>
        p.lanes.flatMap((l) => l.spots.filter((s) => s.rf >= 0.02).map((s) => s.rf)),
      );
      const shown = new Set([...run.origin.values()].flat()).size;
      const tree = agnes(
        rf.map((v) => [v]),
        { method: "average" satisfies AgglomerationMethod },
      );
      const clusters = tree.group(shown);
      const labels = new Array<number>(rf.length).fill(0);
      clusters.children.forEach((cluster, c) => {
        for (const i of cluster.indices()) labels[i] = c;
      });
      expect(adjustedRand(groups(run.plates), labels)).toBeGreaterThan(0.98);
    }
  });

  it("tells a close pair apart where tubes show one without the other", () => {
    const found = groupSpots(
      drawnPlates(`
        rf    1 2 3 4 5 6 7 8
        0.450 3 6 8 5 . . . .
        0.415 . . . . 4 7 8 4
      `),
    );
    expect(found.rf).toHaveLength(2);
  });

  it("ties plates of different Rf scales together by the crude", () => {
    // The second plate runs 0.03 higher; without the crude one could not tell.
    const found = groupSpots(
      drawnPlates(`
        rf    crude 1 2 3 4 | crude 5 6 7 8
        0.53  .     . . . . | 5     3 . . .
        0.50  5     . 3 7 6 | .     . . . .
        0.33  .     . . . . | 6     . 4 7 5
        0.30  6     . . . . | .     . . . .
      `),
    );
    expect(found.rf).toHaveLength(2);
    expect(found.rf[0] - found.rf[1]).toBeCloseTo(0.2, 1);
  });

  it("does not make a component of one doubtful spot", () => {
    const lanes = [1, 2, 3, 4, 5, 6].map((n) => ({
      label: String(n),
      spots: n > 1 && n < 6 ? [{ rf: 0.4, amount: 15 }] : [],
    }));
    lanes[2].spots.push({ rf: 0.7, amount: 1.2, confidence: 0.5 } as never);
    expect(groupSpots([sketchedPlate("P1", lanes)]).rf).toHaveLength(1);
  });

  it("believes a strong spot though only one tube shows it", () => {
    const lanes = [1, 3, 5, 7].map((n) => ({
      label: String(n),
      spots: n === 5 ? [{ rf: 0.4, amount: 15, confidence: 0.98 }] : [],
    }));
    expect(groupSpots([sketchedPlate("P1", lanes)]).rf).toHaveLength(1);
  });

  it("leaves what stays on the start line out", () => {
    const lanes = [1, 2, 3].map((n) => ({
      label: String(n),
      spots: [{ rf: 0.006, amount: 8, flags: ["at-origin"] as const }],
    }));
    expect(groupSpots([sketchedPlate("P1", lanes)]).rf).toHaveLength(0);
  });

  it("is as doubtful in a tube as the spot that stands for it", () => {
    const lanes = [3, 5, 7, 8, 7, 5].map((amount, i) => ({
      label: String(i + 1),
      spots: [{ rf: 0.5, amount: 1.6 ** amount, confidence: i === 2 ? 0.6 : 0.98 }],
    }));
    const found = groupSpots([sketchedPlate("P1", lanes)]).lanes.map((l) => l.spots[0].alone[0]);
    expect(found[2]).toBeGreaterThan(0.5);
    expect(found[2]).toBeLessThan(0.8);
    expect(found[3]).toBeGreaterThan(0.95);
  });

  it("believes a substance of one spot a little wider than the others", () => {
    const drawn = drawnPlates(`
      rf   1 2 3 4 5 6
      0.60 4 7 6 . . .
      0.35 . . . . 4 .
    `).map((p) => ({
      ...p,
      lanes: p.lanes.map((l) => ({
        ...l,
        spots: l.spots.map((s) => (s.rf < 0.5 ? { ...s, confidence: 0.78, widthRf: 0.055 } : s)),
      })),
    }));
    expect(groupSpots(drawn).rf).toHaveLength(2);
  });
});
