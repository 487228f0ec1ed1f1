import { describe, expect, it } from "vitest";
import type { PlateReading } from "../../src/model/index.ts";
import { decide, decideDrawn } from "./support/decide.ts";
import { drawnPlates } from "./support/drawing.ts";

const states = (plates: readonly PlateReading[]) =>
  decide(plates).value.fractions.map((f) => ({ clean: "c", mixed: "m", empty: "." })[f.state]);

const DRAWN = `
  rf   1 2 3 4 5 6 7 8 crude
  0.60 5 8 7 4 . . . 6 6
  0.35 . . . . 6 8 . 7 7
`;

/** The last two lanes stand one beside the other, and both claim the spots at the place of the last. */
const claimedTwice = (plates: readonly PlateReading[]) =>
  plates.map((p) => {
    const at = p.lanes.length - 2;
    const { x } = p.lanes[at + 1];
    return {
      ...p,
      lanes: p.lanes.map((l, i) => (i < at ? l : { ...l, spots: l.spots.map((s) => ({ ...s, x: x - 0.004 })) })),
    };
  });

describe("a spot that two lanes claim", () => {
  it("belongs to the lane where the other tubes lead one to expect it", () => {
    expect(states(drawnPlates(DRAWN))[7]).toBe("m");
    const { value: claimed, findings } = decide(claimedTwice(drawnPlates(DRAWN)));
    expect(claimed.fractions[7].state).toBe("empty");
    expect(claimed.fractions[7].reason).toBe(
      "Spots in the lane of tube 8 lie in the lane beside it as well: it is judged by its neighbours, too.",
    );
    expect(findings.find((f) => f.code === "spots-claimed-twice")).toMatchObject({
      message: "Spots in the lane of tube 8 on plate P1 lie in the lane beside it as well, and are counted there.",
      where: { fraction: 8, plate: "P1", lane: 8 },
    });
    // Whose it is does not change what it is.
    const own = claimed.assignments.filter((a) => a.lane === 8).map((a) => a.component);
    expect(own.sort()).toEqual(["A", "B"]);
  });

  it("keeps a component where its neighbours have it", () => {
    const claimed = decide(
      claimedTwice(
        drawnPlates(`
          rf   1 2 3 4 5 6 7 8 crude
          0.60 5 8 7 4 . . . . 6
          0.35 . . . . 6 8 8 7 7
        `),
      ),
    ).value;
    expect(claimed.fractions[7].state).toBe("clean");
    expect(claimed.fractions[7].composition).toEqual({ B: 1 });
  });
});

describe("a component that shows again far from its run", () => {
  it("is followed where it ran all the same", () => {
    const { fractions } = decideDrawn(`
      rf   2 4 6 8 10 12 14 16 18 20 22
      0.80 9 9 . . .  .  .  .  .  .  9
      0.67 . . 7 7 .  .  .  .  .  .  7
      0.40 . . . . 6  8  6  .  .  .  .
    `).value;
    expect(fractions[9].odds.mixed).toBeLessThan(0.2);
    expect(fractions[19].state).toBe("empty");
  });
});
