import { describe, expect, it } from "vitest";
import { rectangle } from "../../src/raster/homography.ts";
import type { Picture } from "../../src/raster/picture.ts";
import { gridSamples, rimSamples } from "../../src/raster/regions.ts";
import { reliefInto } from "../../src/raster/relief.ts";
import { smallPatch } from "../../src/raster/smallPatch.ts";
import { detrendInto, fitSurface, surfaceResiduals } from "../../src/raster/trend.ts";

/** Red is 200 in a box from (20, 10) to (60, 70) and 40 around it. */
function boxed(): Picture {
  const data = new Uint8Array(80 * 90 * 3);
  for (let y = 0; y < 90; y++)
    for (let x = 0; x < 80; x++) data[3 * (80 * y + x)] = x >= 20 && x < 60 && y >= 10 && y < 70 ? 200 : 40;
  return { width: 80, height: 90, data };
}

const box = rectangle(40, 60).map(([x, y]) => [x + 20, y + 10]) as unknown as ReturnType<typeof rectangle>;
const reds = (codes: Uint8Array) => new Set(codes.filter((_, i) => i % 3 === 0));

describe("samples", () => {
  it("of a grid stay inside, of a rim outside", () => {
    expect(reds(gridSamples(boxed(), box, 12, 0.05))).toEqual(new Set([200]));
    expect(reds(rimSamples(boxed(), box, 12, 0.1))).toEqual(new Set([40]));
  });

  it("of a rim leave out what lies beyond the frame", () => {
    const full = rectangle(80, 90);
    expect(rimSamples(boxed(), full, 12, 0.1)).toHaveLength(0);
  });

  it("need a quadrilateral", () => {
    const line = [
      [0, 0],
      [1, 1],
      [2, 2],
      [3, 3],
    ] as const;
    expect(() => gridSamples(boxed(), line, 4, 0)).toThrow(RangeError);
    expect(smallPatch(boxed(), line, 50, 0)).toBeNull();
  });
});

it("a small patch keeps the shape and, moved in, sees nothing from beyond the rim", () => {
  const [r] = smallPatch(boxed(), box, 60, 0.02)!;
  expect([r.width, r.height]).toEqual([40, 60]);
  expect(new Set(r.data)).toEqual(new Set([200]));
});

it("a small patch is the same where the picture ends at its corners and where it goes on", () => {
  const codes = (x: number, y: number, c: number) => (37 * x + 101 * y + 89 * c + x * y) & 255;
  const picture = (width: number, height: number): Picture => ({
    width,
    height,
    data: Uint8Array.from({ length: width * height * 3 }, (_, i) =>
      codes(Math.floor(i / 3) % width, Math.floor(i / 3 / width), i % 3),
    ),
  });
  const patch = (from: Picture) => smallPatch(from, rectangle(50, 70), 40, 0)!.map(({ data }) => data.slice());
  expect(patch(picture(50, 70))).toEqual(patch(picture(53, 74)));
});

describe("a smooth surface", () => {
  const n = 18;
  const surface = (u: number, v: number) => 120 + 20 * u - 9 * v + 6 * u * u - 4 * u * v + 11 * v * v;
  const grid = Float64Array.from({ length: n * n }, (_, i) =>
    surface((2 * (i % n) + 1) / n - 1, (2 * Math.floor(i / n) + 1) / n - 1),
  );

  it("is found under spots that cover a tenth of the grid", () => {
    const spotted = grid.map((v, i) => (i % 10 === 3 ? v - 70 : v));
    const rest = surfaceResiduals(grid, fitSurface(spotted, n), n);
    expect(Math.max(...rest.map(Math.abs))).toBeLessThan(0.5);
  });

  it("is taken off a plane", () => {
    const width = 90;
    const height = 70;
    const data = Float32Array.from({ length: width * height }, (_, i) =>
      surface((2 * (i % width) + 1) / width - 1, (2 * Math.floor(i / width) + 1) / height - 1),
    );
    const even = new Float32Array(data.length);
    detrendInto({ width, height, data }, even);
    expect(Math.max(...even.map(Math.abs))).toBeLessThan(1.5);
  });
});

it("relief parts a narrow mark from a soft blob", () => {
  const [width, height] = [160, 160];
  const data = new Float32Array(width * height).fill(150);
  for (let x = 20; x < 140; x++) data[40 * width + x] -= 40;
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) data[y * width + x] -= 40 * Math.exp(-((x - 80) ** 2 + (y - 110) ** 2) / 72);
  const [fine, coarse] = [new Float32Array(data.length), new Float32Array(data.length)];
  const { level } = reliefInto({ width, height, data }, fine, coarse);
  const [line, blob] = [40 * width + 70, 110 * width + 80];
  expect(level).toBeCloseTo(150, 0);
  expect(fine[line]).toBeLessThan(-25);
  expect(fine[blob]).toBeGreaterThan(-12);
  expect(coarse[blob]).toBeLessThan(-25);
  expect(coarse[line]).toBeGreaterThan(-12);
});
