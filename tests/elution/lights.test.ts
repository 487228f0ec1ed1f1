import { describe, expect, it } from "vitest";
import { decide } from "./support/decide.ts";
import { drawnPlates } from "./support/drawing.ts";

/** Every plate photographed at 254 nm and stained; spots above Rf 0.5 answer to the stain alone, but for a trace of unevenness. */
function stainedAsWell(drawing: string) {
  return drawnPlates(drawing).map((plate) => ({
    ...plate,
    photos: [plate.photos[0], { ...plate.photos[0], light: "white" as const, stain: "kmno4" }],
    lanes: plate.lanes.map((lane) => ({
      ...lane,
      detectionLimit: [0.3, 0.3],
      spots: lane.spots.map((spot) => {
        const [own] = spot.responses;
        const trace = {
          ...own,
          amount: 0.003 * own.amount,
          amountSd: 0.0004 * own.amount,
          contrastToNoise: 0.8,
          peak: 0.001,
        };
        return { ...spot, responses: [spot.rf > 0.5 ? trace : own, { ...own, light: "white" as const, photo: 1 }] };
      }),
    })),
  }));
}

describe("amounts under several lights", () => {
  it("of a component that only the stain shows are counted in the stain", () => {
    const { value } = decide(
      stainedAsWell(`
        rf   crude 1 2 3 4 5 6 7 8
        0.70 5     . 5 7 6 2 . . .
        0.35 6     . . . . 4 7 7 4
      `),
      { fractionCount: 8 },
    );
    for (const tube of [2, 3]) {
      const { state, composition } = value.fractions[tube - 1];
      expect(state, `tube ${tube}`).toBe("clean");
      expect(composition.A, `tube ${tube}`).toBeGreaterThan(0.95);
    }
    expect(value.fractions[4].state).toBe("mixed");
  });
});
