import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/math/random.ts";
import { boxBlur } from "../../src/raster/blur.ts";
import { makePlane, type Plane } from "../../src/raster/picture.ts";

function noisy(width: number, height: number, seed = 1): Plane {
  const random = seededRandom(seed);
  const plane = makePlane(width, height);
  for (let i = 0; i < plane.data.length; i++) plane.data[i] = random();
  return plane;
}

/** The mean over a window, term by term; beyond the border the border's value stands. */
function directMean({ width, height, data }: Plane, rx: number, ry: number): Float64Array {
  const out = new Float64Array(width * height);
  const within = (v: number, size: number) => Math.min(Math.max(v, 0), size - 1);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      let sum = 0;
      for (let dy = -ry; dy <= ry; dy++)
        for (let dx = -rx; dx <= rx; dx++) sum += data[within(y + dy, height) * width + within(x + dx, width)];
      out[y * width + x] = sum / ((2 * rx + 1) * (2 * ry + 1));
    }
  return out;
}

function largestDifference(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let most = 0;
  for (let i = 0; i < a.length; i++) most = Math.max(most, Math.abs(a[i] - b[i]));
  return most;
}

describe("boxBlur", () => {
  it.each([
    [23, 17, 3, 2],
    [23, 17, 0, 4],
    [23, 17, 5, 0],
    [23, 17, 0, 0],
    [6, 5, 9, 8],
    [1, 12, 2, 2],
  ])("is the direct sum on %i x %i pixels, reach %i x %i", (width, height, rx, ry) => {
    const plane = noisy(width, height);
    expect(largestDifference(boxBlur(plane, rx, ry).data, directMean(plane, rx, ry))).toBeLessThan(1e-5);
  });

  it("leaves its input alone", () => {
    const plane = noisy(8, 8);
    const before = plane.data.slice();
    boxBlur(plane, 2, 2);
    expect(plane.data).toEqual(before);
  });
});
