import { type Evidence, evidenceOf } from "./evidence.ts";
import { countPeaks, rowFill } from "./rows.ts";
import type { Signs } from "./signs.ts";

/** What only a larger picture of a plate shows, besides what any shows. */
export interface CloserEvidence extends Evidence {
  /** Share of the width that the fullest row of strokes near the head takes up: a front drawn in pencil. */
  readonly headRow: number;
  /** Strokes that cross that row, as a root over their usual number: an origin has ticks and crosses, a front has none. */
  readonly headTicks: number;
  /** Soft spots that stand on that row, likewise: what is left on an origin, at the wrong end. */
  readonly headSpots: number;
  /** Spots are wider near the head than near the foot, as spots are that ran farther: logarithm of the ratio of means. */
  readonly widening: number;
}

const HEAD = [0.03, 0.26] as const;
const TEETH = 48;
const STROKE = 4;
const SPOT = 3;
const BOLD = 20;

/** Looks at a plate as if it stood front up, more closely. */
export function closerEvidenceOf(signs: Signs): CloserEvidence {
  const { height: h } = signs;
  const fill = rowFill(signs.strokes, signs.width, h);
  let row = Math.round(HEAD[0] * h);
  for (let y = row; y < HEAD[1] * h; y++) if (fill[y] > fill[row]) row = y;
  return {
    ...evidenceOf(signs),
    headRow: fill[row],
    headTicks: Math.sqrt(crossings(signs, row)) / 3,
    headSpots: Math.sqrt(countPeaks(spotsAlong(signs, row))) / 4,
    widening: widening(signs),
  };
}

/** How many strokes go on above and below a row. */
function crossings({ width: w, height: h, strokes }: Signs, row: number): number {
  const reach = Math.floor(0.025 * h);
  let count = 0;
  let before = false;
  for (let b = 0; b < TEETH; b++) {
    let above = 0;
    let below = 0;
    for (let x = Math.floor((b * w) / TEETH); x < Math.floor(((b + 1) * w) / TEETH); x++) {
      for (let k = 3; k <= reach + 1; k++) {
        if (row >= k && strokes[(row - k) * w + x] > STROKE) above++;
        if (row + k < h && strokes[(row + k) * w + x] > STROKE) below++;
      }
    }
    const crosses = above > 1 && below > 1;
    if (crosses && !before) count++;
    before = crosses;
  }
  return count;
}

function spotsAlong({ width: w, height: h, spots }: Signs, row: number): Float32Array {
  const reach = 0.015 * h;
  const profile = new Float32Array(w);
  for (let y = Math.max(0, Math.round(row - reach)); y < Math.round(row + reach); y++)
    for (let x = 0; x < w; x++) {
      const v = spots[y * w + x];
      if (v > SPOT) profile[x] += Math.min(BOLD, v - SPOT);
    }
  return profile;
}

/** Level runs within a spot are so strong, and so long as shares of the width; so many of each half make a mean. */
const RUN = { strong: 6, least: 0.015, most: 0.2, enough: 20 };

function widening({ width: w, height: h, spots }: Signs): number {
  const sums = [0, 0];
  const counts = [0, 0];
  for (let y = Math.round(0.14 * h); y < 0.86 * h; y++) {
    const half = y > h / 2 ? 1 : 0;
    let run = 0;
    for (let x = 0; x <= w; x++) {
      if (x < w && spots[y * w + x] > RUN.strong) {
        run++;
        continue;
      }
      if (run > RUN.least * w && run < RUN.most * w) {
        counts[half]++;
        sums[half] += run;
      }
      run = 0;
    }
  }
  if (Math.min(...counts) <= RUN.enough) return 0;
  return Math.log(sums[0] / counts[0] / (sums[1] / counts[1]));
}
