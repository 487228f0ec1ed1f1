import { describe, expect, it } from "vitest";
import type { Spot } from "../../../src/model/index.ts";
import type { JudgedSpot } from "../../../src/plate/spots/secondLook.ts";
import { trails } from "../../../src/plate/spots/trailing.ts";

/** A candidate at an Rf; its peaks and contrasts by photo. */
const candidate = (rf: number, rise: number, ...photos: readonly (readonly [number, number])[]): JudgedSpot => {
  const responses = photos.map(([peak, contrastToNoise], photo) => ({ photo, peak, contrastToNoise }));
  return { spot: { rf, widthRf: 0.06, responses } as unknown as Spot, evidence: [], rise };
};
const strong = candidate(0.14, 0.9, [0.5, 120]);
const tail = candidate(0.075, 0, [0.05, 14]);

describe("the tail of a spot", () => {
  it("is what comes low after a strong one and has no top of its own", () => {
    expect(trails(tail, [tail, strong])).toBe(true);
  });

  it("is not what has a top, is not so low, comes before it or far behind it", () => {
    for (const other of [
      candidate(0.075, 0.1, [0.05, 14]),
      candidate(0.075, 0, [0.1, 14]),
      candidate(0.2, 0, [0.05, 14]),
      candidate(0.06, 0, [0.05, 14]),
    ])
      expect(trails(other, [other, strong])).toBe(false);
  });

  it("is not what another photo shows more clearly, where the strong one is not", () => {
    const both = candidate(0.14, 0.9, [0.5, 120], [0.04, 5]);
    const stained = candidate(0.075, 0, [0.05, 14], [0.3, 60]);
    expect(trails(stained, [stained, both])).toBe(false);
  });
});
