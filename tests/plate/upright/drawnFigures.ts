import type { Signs } from "../../../src/plate/upright/signs.ts";

/** Figures as written by hand, each cell a stroke 2 pixels wide. */
export const FIGURES: Readonly<Record<number, readonly string[]>> = {
  2: [" ### ", "#   #", "    #", "   # ", "  #  ", " #   ", "#####"],
  3: [" ### ", "#   #", "    #", "  ## ", "    #", "#   #", " ### "],
  4: ["   # ", "  ## ", " # # ", "#  # ", "#####", "   # ", "   # "],
  7: ["#####", "    #", "   # ", "   # ", "  #  ", "  #  ", "  #  "],
};

/** A plate of 300 x 240 pixels with marks written at its foot, at equal distances. */
export function written(patterns: readonly (readonly string[])[]): Signs {
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
  return { width, height, strokes, soft: { width, height, spots: none, shade: none, blobs: [] } };
}
