import { describe, expect, it } from "vitest";
import type { PlateReading, SpotResponse } from "../../src/model/index.ts";
import { decide, decideDrawn } from "./support/decide.ts";
import { drawnPlates } from "./support/drawing.ts";

const states = (plates: readonly PlateReading[]) => decide(plates).value.fractions.map((f) => f.state);

/** The same plates with every spot's response as `change` makes it, the spot's Rf given. */
function answering(
  plates: readonly PlateReading[],
  change: (r: SpotResponse, rf: number, plate: number) => readonly SpotResponse[],
): PlateReading[] {
  return plates.map((p, i) => ({
    ...p,
    lanes: p.lanes.map((l) => ({
      ...l,
      spots: l.spots.map((s) => ({ ...s, responses: s.responses.flatMap((r) => change(r, s.rf, i)) })),
    })),
  }));
}

describe("shares of a tube", () => {
  it("are not blown up by a substance that glows", () => {
    // Tube 4 holds as much of either; the slower one glows thirty times as bright as it quenches.
    const drawn = drawnPlates(`
      rf   1 2 3 4 5 6 7
      0.60 4 7 7 5 . . .
      0.35 . . . 5 7 6 3
    `).map((p) => ({
      ...p,
      photos: [...p.photos, { ...p.photos[0], light: "uv365" as const }],
      lanes: p.lanes.map((l) => ({ ...l, detectionLimit: [l.detectionLimit[0], l.detectionLimit[0]] })),
    }));
    const glowing = answering(drawn, (r, rf) => [
      r,
      rf < 0.5
        ? { ...r, light: "uv365", photo: 1, amount: 30 * r.amount }
        : { ...r, light: "uv365", photo: 1, amount: 0, contrastToNoise: 0, peak: 0 },
    ]);
    const tube = decide(glowing).value.fractions[3];
    expect(tube.state).toBe("mixed");
    expect(tube.composition.A).toBeGreaterThan(0.35);
    expect(tube.composition.A).toBeLessThan(0.65);
  });

  it("take in a tail that must be there though its spot is missing", () => {
    const seen = decideDrawn(`
      rf   1 2 3 4 5 6 7 8
      0.60 5 8 9 8 7 . . .
      0.35 . . . 3 . 7 8 5
    `).value.fractions;
    expect(seen[4].odds.mixed).toBeGreaterThan(0.5);
    expect(seen[1].odds.mixed).toBeLessThan(0.05);
  });
});

describe("one substance on two plates", () => {
  it("is not split because two photos show another tint", () => {
    const drawn = drawnPlates(`
      rf   1 2 3 4 | 5 6 7 8
      0.50 3 6 8 8 | 8 7 5 3
    `);
    const tinted = answering(drawn, (r, _rf, plate) => [
      { ...r, colour: plate === 0 ? [0.36, 0.34, 0.3] : [0.3, 0.34, 0.36] },
    ]);
    expect(decide(tinted).value.components).toHaveLength(1);
    expect(states(tinted)).toEqual(new Array(8).fill("clean"));
  });
});
