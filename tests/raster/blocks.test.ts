import { expect, it } from "vitest";
import { blockMeans } from "../../src/raster/blocks.ts";
import { makePlane } from "../../src/raster/picture.ts";

it("means of 2 x 2 pixels; the rest that fills no block is left out", () => {
  const plane = makePlane(5, 3);
  // biome-ignore format: drawn
  plane.data.set([
    1, 3, 10, 10, 99,
    5, 7, 20, 40, 99,
    9, 9,  9,  9, 99,
  ]);
  const { width, height, data } = blockMeans(plane, 2);
  expect([width, height]).toEqual([2, 1]);
  expect([...data]).toEqual([4, 20]);
});

it("keeps the mean of a plane that blocks fill", () => {
  const plane = makePlane(12, 9);
  plane.data.forEach((_, i) => {
    plane.data[i] = Math.sin(i);
  });
  const mean = (values: Float32Array) => values.reduce((a, b) => a + b, 0) / values.length;
  expect(mean(blockMeans(plane, 3).data)).toBeCloseTo(mean(plane.data), 6);
});
