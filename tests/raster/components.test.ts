import { expect, it } from "vitest";
import { connectedPatches } from "../../src/raster/components.ts";

function maskOf(drawing: readonly string[]): [Uint8Array, number, number] {
  const width = drawing[0].length;
  const mask = Uint8Array.from(drawing.join(""), (c) => (c === "#" ? 255 : 0));
  return [mask, width, drawing.length];
}

const drawing = [
  "..........", //
  ".##.....#.",
  ".#.....#..",
  "......#...",
  "...#......",
  "........##",
  "........##",
];

it("finds patches with box, area and centroid; corners touching join", () => {
  const [corner, diagonal, block] = connectedPatches(...maskOf(drawing), 2).sort((a, b) => a.x0 - b.x0);
  expect(corner).toMatchObject({ x0: 1, y0: 1, x1: 3, y1: 3, area: 3 });
  expect(corner.cx).toBeCloseTo(4 / 3, 6);
  expect(diagonal).toMatchObject({ x0: 6, y0: 1, x1: 9, y1: 4, area: 3, cx: 7, cy: 2 });
  expect(block).toMatchObject({ x0: 8, y0: 5, x1: 10, y1: 7, area: 4, cx: 8.5, cy: 5.5 });
});

it("leaves out patches smaller than asked for", () => {
  expect(connectedPatches(...maskOf(drawing), 1)).toHaveLength(4);
  expect(connectedPatches(...maskOf(drawing), 4)).toHaveLength(1);
  expect(connectedPatches(...maskOf(drawing), 5)).toHaveLength(0);
});

it("finds nothing on an empty mask", () => {
  expect(connectedPatches(new Uint8Array(30), 6, 5, 1)).toEqual([]);
});
