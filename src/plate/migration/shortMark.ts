import { stripeCentre } from "./blocks.ts";
import type { RowCurve } from "./curves.ts";
import { MARGIN, STRIPES } from "./search.ts";
import type { Sketch } from "./sketch.ts";
import { frontAlong, strokeLean } from "./strokeLean.ts";

/** Stripes next to each edge that a mark is looked for in: 0.16 of the width. */
const OUTER = 7;
/** Rise of a mark over the whole width, at most: a scratch is seldom as level. */
const SLOPE = 0.05;
/** Rows looked at, as shares of the height. */
const ROWS = { from: 0.035, to: 0.35 };
/** Mean response in noise widths, each clamped to 0..3, and how many of the stripes reach a third of that. */
const LEAST = 2.5;
const MOST_OF_THEM = 6;

const CENTRES = Array.from({ length: OUTER }, (_, k) => stripeCentre(k, STRIPES, MARGIN));

/** A short pencil mark at one edge of the plate, along which the front is taken to run. */
export interface ShortMark extends RowCurve {
  /** Mean response of its strokes, in noise widths clamped to 3. */
  readonly score: number;
}

/** The plainest short mark at each edge where a front may be: what people leave who mark the front in haste. */
export function shortMarks({ map: { width, height }, pencil, pencilNoise }: Sketch): ShortMark[] {
  const apart = ((1 - 2 * MARGIN) * width) / STRIPES;
  const [from, to] = [Math.round(ROWS.from * height), ROWS.to * height];
  const slopes = Array.from({ length: 9 }, (_, k) => (k / 4 - 1) * SLOPE * apart);
  const lines = slopes.map((slope) =>
    Array.from({ length: OUTER }, (_, k) => Math.round(slope * (k - (OUTER - 1) / 2))),
  );
  const along = new Float64Array(OUTER);
  return ([0, 1] as const).flatMap((side) => {
    const outer = Array.from({ length: OUTER }, (_, k) => {
      const at = (side === 0 ? k : STRIPES - 1 - k) * height;
      return pencil.data.subarray(at, at + height);
    });
    const stripes = outer.map((data) => strongestNear(data, pencilNoise));
    let best: { readonly begins: number; readonly score: number } | null = null;
    for (let y = from; y < to; y++)
      for (const rows of lines) {
        const score = meanAlong(stripes, rows, y, along);
        if (score < Math.max(LEAST, best?.score ?? 0)) continue;
        if (along.filter((v) => v > score / 3).length < MOST_OF_THEM) continue;
        best = { begins: y + rows[0], score };
      }
    return best ? { ...frontAlong(strokeLean(outer, CENTRES, best.begins), side, height), score: best.score } : [];
  });
}

/** Mean of a stripe's row each, which stand in `along` then. */
function meanAlong(stripes: readonly Float64Array[], rows: readonly number[], y: number, along: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < OUTER; k++) {
    along[k] = stripes[k][y + rows[k]];
    sum += along[k];
  }
  return sum / OUTER;
}

/** Strongest of each row and its neighbours, in noise widths clamped to 0..3. */
function strongestNear(data: Float32Array, noise: number): Float64Array {
  const near = new Float64Array(data.length);
  for (let y = 1; y + 1 < data.length; y++)
    near[y] = Math.max(0, Math.min(3, Math.max(data[y - 1], data[y], data[y + 1]) / noise));
  return near;
}
