import { PITCHES, sumsOf } from "./columns.ts";
import type { Soft, Strokes } from "./signs.ts";

/** How far lanes may be shifted as a whole, in ways from lane to lane. */
const SHIFTS = [-0.3, -0.24, -0.18, -0.12, -0.06, 0, 0.06, 0.12, 0.18, 0.24, 0.3];
/**
 * Every lane has its name, a title or the eluent stands in one place: a lane counts for no more than so much of what one of the poorer
 * shows, and a little that each kind of mark has.
 */
const EVEN = { share: 0.25, most: 1.5 };

/** Below the origin: shares of the height; what counts as dark, for how much at most, and a column for how much of the height. */
const BELOW = { from: 0.86, to: 0.97, least: 0.5, most: 3, column: 0.1, ground: 0.01, little: 0.25 };

/**
 * How far the plate is darker below the origin at the places of most lanes than between them: names, sharp or not, and ticks.
 * @param counts numbers of lanes that there may be; the best counts
 */
export function marksBelow({ width: w, height: h, shade }: Soft, counts: readonly number[]): number {
  const columns = new Float64Array(w);
  for (let y = Math.round(BELOW.from * h); y < BELOW.to * h; y++)
    for (let x = 0, i = y * w; x < w; x++, i++) columns[x] += Math.max(0, Math.min(BELOW.most, shade[i] - BELOW.least));
  return comb(
    columns.map((v) => Math.min(v, BELOW.column * h)),
    counts,
    BELOW.ground * h,
    BELOW.little,
  );
}

/** On the origin and below it: shares of the height; what is a stroke; a row that is so full belongs to a line. */
const STROKES = { from: 0.8, to: 0.97, least: 5, line: 0.35, ground: 0.5, little: 1 };

/**
 * How far strokes stand on the origin and below it at the places of most lanes, rather than between them.
 * @param counts numbers of lanes that there may be; the best counts
 */
export function strokesBelow({ width: w, height: h, strokes }: Strokes, counts: readonly number[]): number {
  const columns = new Float64Array(w);
  const row = new Uint8Array(w);
  for (let y = Math.round(STROKES.from * h); y < STROKES.to * h; y++) {
    const full = markStrokes(strokes, y * w, row);
    if (full <= STROKES.line * w) for (let x = 0; x < w; x++) columns[x] += row[x];
  }
  return comb(columns, counts, STROKES.ground, STROKES.little);
}

/** Marks where in a row, which begins at `i`, strokes are; returns in how many places. */
function markStrokes(strokes: Float32Array, i: number, row: Uint8Array): number {
  let full = 0;
  for (let x = 0; x < row.length; x++) {
    const on = Number(strokes[i + x] > STROKES.least);
    row[x] = on;
    full += on;
  }
  return full;
}

/** How much more columns hold at the places of lanes than between them, over their mean and a ground; the best of counts, ways and shifts. */
function comb(columns: Float64Array, counts: readonly number[], ground: number, little: number): number {
  const w = columns.length;
  const between = sumsOf(columns);
  // Among many counts a coarser grid does: ways of one lie between those of the next.
  const some = (_: number, i: number) => counts.length === 1 || i % 2 === 1;
  const [pitches, shifts] = [PITCHES.filter(some), SHIFTS.filter(some)];
  let best = 0;
  for (const lanes of counts) {
    const own = new Float64Array(lanes);
    for (const pitch of pitches)
      for (const shift of shifts) {
        const way = (pitch * w) / lanes;
        const first = 0.5 * w + (shift - (lanes - 1) / 2) * way;
        let sum = 0;
        for (let lane = 0; lane < lanes; lane++)
          sum += own[lane] = between(first + (lane - 0.25) * way, first + (lane + 0.25) * way);
        const all = between(first - way / 2, first + (lanes - 0.5) * way);
        // Even lanes could not be better than that.
        if (2 * sum - all > best) best = Math.max(best, sum + evenSum(own, little) - all);
      }
  }
  return best / (w / 2) / (between(0, w) / w + ground);
}

/** What lanes hold, as far as none holds more than most do; sorts them. */
function evenSum(own: Float64Array, little: number): number {
  own.sort();
  const most = EVEN.most * own[Math.round(EVEN.share * (own.length - 1))] + little;
  let sum = 0;
  for (let i = 0; i < own.length; i++) sum += Math.min(own[i], most);
  return sum;
}
