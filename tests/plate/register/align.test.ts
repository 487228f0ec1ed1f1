import { describe, expect, it } from "vitest";
import type { Quad } from "../../../src/model/index.ts";
import { aligned, lookAtOutline, lookSize } from "../../../src/plate/register/index.ts";
import { cornerError, tilted } from "../locate/scene.ts";
import { photoOf } from "./spottedPlate.ts";

describe("photos of one plate", () => {
  const [one, other] = [tilted(320, 320, 300, 400, 4, 0.05), tilted(300, 330, 340, 440, -7, 0.02)];
  const size = lookSize(one);
  const seen = lookAtOutline(photoOf(one, false, 3), one, size);
  /** The outline in the second photo, its corners off by some pixels. */
  const off = (...by: readonly (readonly [number, number])[]) =>
    other.map(([x, y], k) => [x + by[k][0], y + by[k][1]] as const) as unknown as Quad;

  it.each([
    ["aside", off([9, 6], [9, 6], [9, 6], [9, 6])],
    ["higher at one end", off([0, -12], [0, -12], [0, 0], [0, 0])],
  ])("meet by their spots and marks, though one outline lies %s", (_, wrong) => {
    const own = lookAtOutline(photoOf(other, true, 4), wrong, size);
    const met = aligned(seen, own, wrong);
    expect(cornerError(met, other)).toBeLessThan(0.7 * cornerError(wrong, other));
  });

  it("stay where they were found if they lie alike", () => {
    expect(aligned(seen, lookAtOutline(photoOf(other, true, 4), other, size), other)).toBe(other);
  });

  it("stay where they were found if one shows nothing", () => {
    const wrong = off([9, 6], [9, 6], [9, 6], [9, 6]);
    const own = lookAtOutline(photoOf(other, true, 4, true), wrong, size);
    expect(aligned(seen, own, wrong)).toBe(wrong);
  });
});
