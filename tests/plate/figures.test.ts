import { describe, expect, it } from "vitest";
import { figureCentres } from "../../src/plate/figures.ts";

/** A row of digits so wide and high, each from its left edge on. */
function rowOf(lefts: readonly number[], wide: number, high: number) {
  const marks = lefts.map((x) => ({
    x0: x,
    x1: x + wide,
    y0: 0,
    y1: high,
    area: wide * high,
    cx: x + wide / 2,
    cy: high / 2,
  }));
  return { marks, y: high / 2, tilt: 0, size: high, alike: true };
}

describe("figures of a row of marks", () => {
  it("have the digits that stand together", () => {
    expect(figureCentres(rowOf([100, 118, 200, 218], 14, 24), 600)).toEqual([116, 216]);
  });

  it("are several where lanes stand so near that their figures do as well", () => {
    // 11 to 13 on lanes 23 pixels apart, digits two pixels from each other, figures six
    const lefts = [0, 1, 2].flatMap((lane) => [100 + 22 * lane, 109 + 22 * lane]);
    expect(figureCentres(rowOf(lefts, 7, 13), 808)).toEqual([108, 130, 152]);
  });
});
