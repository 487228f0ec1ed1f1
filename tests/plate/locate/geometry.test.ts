import { describe, expect, it } from "vitest";
import type { Quad } from "../../../src/model/index.ts";
import { contains, overlapShare, quadArea, sideDistance } from "../../../src/plate/locate/geometry.ts";

const square = (x: number, y: number, side: number): Quad => [
  [x, y],
  [x + side, y],
  [x + side, y + side],
  [x, y + side],
];

describe("quadrilaterals", () => {
  it("have an area, whichever way round", () => {
    expect(quadArea(square(3, 4, 5))).toBe(25);
    expect(quadArea([...square(3, 4, 5)].reverse())).toBe(25);
  });

  it("overlap by a share of the smaller", () => {
    expect(overlapShare(square(0, 0, 10), square(5, 5, 10))).toBeCloseTo(0.25);
    expect(overlapShare(square(0, 0, 10), square(2, 2, 4))).toBeCloseTo(1);
    expect(overlapShare(square(0, 0, 10), square(20, 0, 5))).toBe(0);
    const diamond: Quad = [
      [5, 0],
      [10, 5],
      [5, 10],
      [0, 5],
    ];
    expect(overlapShare(square(0, 0, 10), diamond)).toBeCloseTo(1);
  });

  it("contain what lies far enough inside", () => {
    expect(contains(square(0, 0, 10), square(2, 2, 4), 2)).toBe(true);
    expect(contains(square(0, 0, 10), square(2, 2, 4), 2.1)).toBe(false);
  });

  it("have their inside to the right of each side", () => {
    const [a, b] = square(0, 0, 10);
    expect(sideDistance(a, b, [3, 4])).toBe(4);
    expect(sideDistance(a, b, [3, -4])).toBe(-4);
  });
});
