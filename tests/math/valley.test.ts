import { describe, expect, it } from "vitest";
import { deepestValley } from "../../src/math/valley.ts";

describe("deepest valley", () => {
  it("is none in a row with one peak", () => {
    expect(deepestValley([0, 2, 5, 5, 3, 1])).toEqual({ at: 0, depth: 0, second: 0 });
  });

  it("is measured under the lower of the two humps", () => {
    //  7     .
    //  4  .      .
    //  1     (dip)
    expect(deepestValley([0, 4, 1, 7, 2])).toEqual({ at: 2, depth: 3, second: 0 });
  });

  it("tells a single low point from a wide dip", () => {
    expect(deepestValley([5, 1, 5]).second).toBe(0);
    expect(deepestValley([5, 1, 2, 5])).toEqual({ at: 1, depth: 4, second: 3 });
  });

  it("takes an empty row", () => {
    expect(deepestValley([]).depth).toBe(0);
  });
});
