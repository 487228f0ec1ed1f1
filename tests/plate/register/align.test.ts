import { describe, expect, it } from "vitest";
import type { Quad } from "../../../src/model/index.ts";
import { aligned } from "../../../src/plate/register/align.ts";
import { lookAtOutline, lookSize } from "../../../src/plate/register/index.ts";
import { canvas, cornerError, expose, type Paint, paintQuad, tilted } from "../locate/scene.ts";

const SPOTS = [
  [0.2, 0.3],
  [0.4, 0.35],
  [0.6, 0.35],
  [0.4, 0.6],
  [0.8, 0.7],
];

/** A layer with spots and a pencil line, dark on green or glowing on black; or a bare one. */
function layer(glowing: boolean, bare: boolean): Paint {
  return (u, v) => {
    const spots = SPOTS.reduce((sum, [x, y]) => sum + Math.exp(-((u - x) ** 2 + (v - y) ** 2) / 0.0012), 0);
    const spot = bare ? 0 : spots;
    const pencil = !bare && Math.abs(v - 0.88) < 0.005 ? 0.75 : 1;
    return glowing
      ? [25 + 40 * spot, 20 + 90 * spot, 45 * pencil + 150 * spot]
      : [60 * pencil, pencil * 200 * Math.exp(-spot), 90 * pencil];
  };
}

function photo(quad: Quad, glowing: boolean, seed: number, bare = false) {
  const on = canvas(640, 640, () => (glowing ? [12, 8, 20] : [40, 30, 70]));
  paintQuad(on, quad, layer(glowing, bare));
  return expose(on, 2, seed);
}

describe("photos of one plate", () => {
  const [one, other] = [tilted(320, 320, 300, 400, 4, 0.05), tilted(300, 330, 340, 440, -7, 0.02)];
  const size = lookSize(one);
  const seen = lookAtOutline(photo(one, false, 3), one, size);
  /** The outline in the second photo, its corners off by some pixels. */
  const off = (...by: readonly (readonly [number, number])[]) =>
    other.map(([x, y], k) => [x + by[k][0], y + by[k][1]] as const) as unknown as Quad;

  it.each([
    ["aside", off([9, 6], [9, 6], [9, 6], [9, 6])],
    ["higher at one end", off([0, -12], [0, -12], [0, 0], [0, 0])],
  ])("meet by their spots and marks, though one outline lies %s", (_, wrong) => {
    const own = lookAtOutline(photo(other, true, 4), wrong, size);
    const met = aligned(seen, own, wrong);
    expect(cornerError(met, other)).toBeLessThan(0.7 * cornerError(wrong, other));
  });

  it("stay where they were found if they lie alike", () => {
    expect(aligned(seen, lookAtOutline(photo(other, true, 4), other, size), other)).toBe(other);
  });

  it("stay where they were found if one shows nothing", () => {
    const wrong = off([9, 6], [9, 6], [9, 6], [9, 6]);
    const own = lookAtOutline(photo(other, true, 4, true), wrong, size);
    expect(aligned(seen, own, wrong)).toBe(wrong);
  });
});
