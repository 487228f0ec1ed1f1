import { describe, expect, it } from "vitest";
import type { PlateReading, SpotResponse } from "../../src/model/index.ts";
import { decide, decideDrawn } from "./support/decide.ts";
import { drawnPlates, sketchedPlate } from "./support/drawing.ts";

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

  it("count spots that a stain leaves paler than its ground", () => {
    const drawn = drawnPlates(`
      rf   1 2 3 4
      0.60 4 7 5 .
    `).map((p) => ({ ...p, photos: p.photos.map((f) => ({ ...f, light: "white" as const, stain: "kmno4" })) }));
    const pale = answering(drawn, (r) => {
      const [red, green, blue] = r.colour;
      return [{ ...r, light: "white", colour: [-red, -green, -blue] }];
    });
    expect(states(pale)).toEqual(["clean", "clean", "clean", "empty"]);
  });

  it("hold what a saturated spot shows against a light that shows nothing of it", () => {
    // Tube 3 is so strong under the stain that the layer no longer answers in proportion; at 365 nm nothing of it is seen.
    const drawn = drawnPlates(`
      rf   1 2 3 4 5 6
      0.60 4 7 9 6 3 .
      0.35 . . 4 6 6 4
    `).map((p) => ({
      ...p,
      photos: [
        { ...p.photos[0], light: "white" as const },
        { ...p.photos[0], light: "uv365" as const },
      ],
      lanes: p.lanes.map((l) => ({ ...l, detectionLimit: [l.detectionLimit[0], l.detectionLimit[0]] })),
    }));
    const dark = answering(drawn, (r, rf) => [
      { ...r, light: "white", peak: rf > 0.5 && r.amount > 15 ? 1.6 : r.peak },
      { ...r, light: "uv365", photo: 1, amount: 0, amountSd: 0.001, contrastToNoise: 0, peak: 0 },
    ]);
    expect(decide(dark).value.fractions[2].composition.A).toBeGreaterThan(0.7);
  });

  it("leave a tube in doubt that lacks a spot which its neighbours show", () => {
    const seen = decideDrawn(`
      rf   1 2 3 4 5 6 7 8
      0.60 5 8 9 8 7 . . .
      0.35 . . . 3 . 7 8 5
    `).value.fractions;
    expect(seen[4].odds.mixed).toBeGreaterThan(0.2);
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

  it("is not split because its strong spots have another tint", () => {
    const drawn = drawnPlates(`
      rf   1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16
      0.70 4 6 5 . . . . . . .  .  .  .  .  .  .
      0.30 . . . . 1 2 3 5 7 8  9  9  7  5  3  1
    `);
    // The slow one quenches its own glow where there is much of it: blue turns from bright to dark.
    const tinted = answering(drawn, (r, rf) => [
      rf > 0.5 ? r : { ...r, colour: [0.4, 0.35, -0.5 + 0.16 * Math.log(r.amount / 0.3)] },
    ]);
    expect(decide(tinted).value.components).toHaveLength(2);
  });

  it("is not split because the spots of one plate are wide", () => {
    const lane = (n: number, amount: number, width: number) => ({
      label: String(n),
      spots: [{ rf: 0.4 + 0.004 * ((n % 3) - 1), amount, width }],
    });
    const narrow = [4, 9, 20, 35, 40, 38].map((a, i) => lane(i + 1, a, 0.04));
    const wide = [36, 30, 24, 17, 11, 6].map((a, i) => lane(i + 7, a, 0.062));
    expect(decide([sketchedPlate("P1", narrow), sketchedPlate("P2", wide)]).value.components).toHaveLength(1);
  });
});
