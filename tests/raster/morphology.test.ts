import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/math/random.ts";
import { openInPlace } from "../../src/raster/morphology.ts";
import { makePlane, type Plane } from "../../src/raster/picture.ts";

function noisy(width: number, height: number, seed: number): Plane {
  const random = seededRandom(seed);
  const plane = makePlane(width, height);
  for (let i = 0; i < plane.data.length; i++) plane.data[i] = random();
  return plane;
}

/** Smallest or largest value in a centred window, pixel by pixel; what lies beyond the border does not count. */
function windowExtreme(
  { width, height, data }: Plane,
  rx: number,
  ry: number,
  pick: (...v: number[]) => number,
): Plane {
  const out = makePlane(width, height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      let best = data[y * width + x];
      for (let v = Math.max(0, y - ry); v <= Math.min(height - 1, y + ry); v++)
        for (let u = Math.max(0, x - rx); u <= Math.min(width - 1, x + rx); u++) best = pick(best, data[v * width + u]);
      out.data[y * width + x] = best;
    }
  return out;
}

function opening(plane: Plane, rx: number, ry: number): Plane {
  const data = plane.data.slice();
  openInPlace(data, plane.width, rx, ry);
  return { ...plane, data };
}

const directOpening = (plane: Plane, rx: number, ry: number): Plane =>
  windowExtreme(windowExtreme(plane, rx, ry, Math.min), rx, ry, Math.max);

describe("opening", () => {
  it.each([
    [1, 1],
    [2, 3],
    [4, 1],
    [0, 3],
    [5, 0],
  ])("is the centred opening, away from the border (reach %i x %i)", (rx, ry) => {
    const plane = noisy(31, 27, 10 * rx + ry);
    const got = opening(plane, rx, ry);
    const want = directOpening(plane, rx, ry);
    for (let y = 2 * ry; y < 27 - 2 * ry; y++)
      for (let x = 2 * rx; x < 31 - 2 * rx; x++) expect(got.data[y * 31 + x]).toBe(want.data[y * 31 + x]);
  });

  it("never lies above its input, and opening again changes nothing", () => {
    const plane = noisy(40, 30, 3);
    const once = opening(plane, 3, 2);
    for (let i = 0; i < plane.data.length; i++) expect(once.data[i]).toBeLessThanOrEqual(plane.data[i]);
    expect(opening(once, 3, 2).data).toEqual(once.data);
  });

  it("takes away a line of 4 pixels and keeps a square of 7", () => {
    const plane = makePlane(50, 40);
    for (let y = 0; y < 40; y++) for (let x = 8; x < 12; x++) plane.data[y * 50 + x] = 1;
    for (let y = 15; y < 22; y++) for (let x = 25; x < 32; x++) plane.data[y * 50 + x] = 1;
    const { data } = opening(plane, 3, 3);
    expect(data[20 * 50 + 10]).toBe(0);
    expect(data[18 * 50 + 28]).toBe(1);
    expect(data[15 * 50 + 25]).toBe(1);
    expect(data.reduce((a, b) => a + b, 0)).toBe(49);
  });
});
