import { describe, expect, it } from "vitest";
import type { Quad } from "../../../src/model/index.ts";
import { halfTurned, likeness, lookAtOutline, lookSize } from "../../../src/plate/register/index.ts";
import { canvas, expose, type Paint, paintQuad, tilted } from "../locate/scene.ts";

const SPOTS = [
  [0.2, 0.3],
  [0.4, 0.35],
  [0.6, 0.35],
  [0.4, 0.6],
  [0.8, 0.7],
];

/** A layer with spots, dark on green or glowing on black, and a pencil line. */
function layer(glowing: boolean): Paint {
  return (u, v) => {
    const spot = SPOTS.reduce((sum, [x, y]) => sum + Math.exp(-((u - x) ** 2 + (v - y) ** 2) / 0.0012), 0);
    const pencil = Math.abs(v - 0.88) < 0.005 ? 0.75 : 1;
    return glowing
      ? [25 + 40 * spot, 20 + 90 * spot, 45 * pencil + 150 * spot]
      : [60 * pencil, pencil * 200 * Math.exp(-spot), 90 * pencil];
  };
}

function photo(quad: Quad, glowing: boolean, seed: number) {
  const on = canvas(640, 640, () => (glowing ? [12, 8, 20] : [40, 30, 70]));
  paintQuad(on, quad, layer(glowing));
  return expose(on, 2, seed);
}

describe("photos of one plate", () => {
  const [one, other] = [tilted(320, 320, 300, 400, 4, 0.05), tilted(300, 330, 340, 440, -7, 0.02)];
  const [green, black] = [photo(one, false, 3), photo(other, true, 4)];
  const size = lookSize(one);
  const seen = lookAtOutline(green, one, size);

  it("look alike under another light, as they lie and no other way", () => {
    const same = lookAtOutline(black, other, size);
    const alike = likeness(seen, same);
    expect(alike).toBeGreaterThan(0.6);
    expect(likeness(seen, halfTurned(same))).toBeLessThan(alike - 0.25);
    const [a, b, c, d] = other;
    const aside = lookAtOutline(black, [d, a, b, c], size);
    expect(likeness(seen, aside)).toBeLessThan(alike - 0.25);
    expect(likeness(seen, halfTurned(aside))).toBeLessThan(alike - 0.25);
  });

  it("look less alike where one outline is that of the paper beneath", () => {
    const paper = tilted(300, 330, 440, 560, -7, 0.02);
    const alike = likeness(seen, lookAtOutline(black, other, size));
    expect(likeness(seen, lookAtOutline(black, paper, size))).toBeLessThan(alike - 0.2);
  });

  it("look like nothing where nothing stands out", () => {
    const blank = { width: 40, height: 50, data: new Float32Array(2000) };
    expect(likeness(blank, blank)).toBe(0);
  });
});
