import { describe, expect, it } from "vitest";
import { figuresUpright } from "../../../src/plate/upright/figures.ts";
import { quarterTurn, type Signs } from "../../../src/plate/upright/signs.ts";

const FIGURES = [
  [" ### ", "#   #", "    #", "  ## ", "    #", "#   #", " ### "],
  ["   # ", "  ## ", " # # ", "#  # ", "#####", "   # ", "   # "],
  ["#####", "    #", "   # ", "   # ", "  #  ", "  #  ", "  #  "],
  [" ### ", "#   #", "    #", "   # ", "  #  ", " #   ", "#####"],
];
const CROSS = ["#   #", " # # ", "  #  ", " # # ", "#   #"];

/** A plate of 300 x 240 pixels with marks written at its foot, each cell of a pattern a stroke 2 pixels wide. */
function written(patterns: readonly (readonly string[])[]): Signs {
  const [width, height] = [300, 240];
  const strokes = new Float32Array(width * height);
  patterns.forEach((rows, n) => {
    rows.forEach((row, y) => {
      [...row].forEach((cell, x) => {
        if (cell !== "#") return;
        for (let k = 0; k < 4; k++)
          strokes[(200 + 2 * y + (k >> 1)) * width + 30 + (n * 240) / patterns.length + 2 * x + (k & 1)] = 10;
      });
    });
  });
  const none = new Float32Array(width * height);
  return { width, height, strokes, spots: none, shade: none, blobs: [] };
}

describe("figures on a plate", () => {
  it("are read for the way they stand", () => {
    let signs = written(FIGURES);
    for (const stands of [0, 3, 2, 1]) {
      const odds = figuresUpright(signs);
      expect(odds.indexOf(Math.max(...odds))).toBe(stands);
      const others = odds.filter((_, turn) => turn !== stands);
      // Tenths of a logarithm: twenty times likelier than any other way.
      expect(odds[stands] - Math.max(...others)).toBeGreaterThan(0.3);
      signs = quarterTurn(signs);
    }
  });

  it("tell nothing where only crosses, or nothing, is drawn", () => {
    expect(figuresUpright(written([]))).toEqual([0, 0, 0, 0]);
    const odds = figuresUpright(written([CROSS, CROSS, CROSS, CROSS]));
    expect(Math.max(...odds) - Math.min(...odds)).toBeLessThan(0.2);
  });
});
