import type { SignalMap } from "../view.ts";
import { ridge, stripesOf } from "./blocks.ts";
import type { RowCurve } from "./curves.ts";
import { MARGIN, STRIPES } from "./search.ts";

/** Stripes next to each edge that a mark is looked for in: 0.16 of the width. */
const OUTER = 7;
/** Rise of a mark over the whole width, at most: a scratch is seldom as level. */
const SLOPE = 0.05;
/** Half the height below which it is pencil, and rows looked at, as shares of the height. */
const REACH = 0.012;
const ROWS = { from: 0.035, to: 0.35 };
/** Mean response in noise widths, each clamped to 0..3, and how many of the stripes reach a third of that. */
const LEAST = 2.5;
const MOST_OF_THEM = 6;

/** A short pencil mark at one edge of the plate, through which the front is taken to run level. */
export interface ShortMark extends RowCurve {
  /** Mean response of its strokes, in noise widths clamped to 3. */
  readonly score: number;
}

/**
 * The plainest short mark at each edge where a front may be: what people leave who mark the front in haste. The other
 * end of the front is not known.
 */
export function shortMarks(map: SignalMap): ShortMark[] {
  const { width, height } = map;
  const z = ridge(stripesOf(map.strokes, STRIPES, MARGIN), Math.max(3, Math.round(REACH * height)));
  const noise = Math.max(4 * map.strokeNoise, 0.002);
  const apart = ((1 - 2 * MARGIN) * width) / STRIPES;
  const slopes = Array.from({ length: 9 }, (_, k) => (k / 4 - 1) * SLOPE * apart);
  return ([0, 1] as const).flatMap((side) => {
    let best: ShortMark | null = null;
    for (let y = Math.round(ROWS.from * height); y < ROWS.to * height; y++)
      for (const slope of slopes) {
        const along = Array.from({ length: OUTER }, (_, k) => {
          const row = Math.round(y + slope * (k - (OUTER - 1) / 2));
          const at = (side === 0 ? k : STRIPES - 1 - k) * height + row;
          return Math.max(0, Math.min(3, Math.max(z.data[at - 1], z.data[at], z.data[at + 1]) / noise));
        });
        const score = along.reduce((a, b) => a + b, 0) / OUTER;
        if (score < Math.max(LEAST, best?.score ?? 0)) continue;
        if (along.filter((v) => v > score / 3).length < MOST_OF_THEM) continue;
        best = { y: y + 0.5, tilt: 0, bow: 0, score };
      }
    return best ?? [];
  });
}
