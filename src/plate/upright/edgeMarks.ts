import type { Strokes } from "./signs.ts";

/** Where a front is marked: shares of the height. */
const ZONE = [0.03, 0.2] as const;
/** A mark begins this far from the rim, in shares of the width and pixels, and is about so long, in shares of the width. */
const MARK = { rim: 0.025, pixels: 2, lengths: [0.035, 0.06, 0.09] } as const;
/** Means of strokes: a mark is so strong at least; strokes count up to the second; what a line that goes on across the plate shows, and its cost. */
const STRONG = { least: 3, most: 8, line: 0.8, cost: 1.5 };
/** A level mark is gone so many rows off; a line across may slant by so many. */
const OFF = 5;
const SLANT = 3;
/** Of a line across, every which pixel is looked at. */
const EVERY = 3;

/**
 * The strongest short level stroke at either rim near the head that does not go on across the plate: many mark the front like that
 * when they take the plate out, while an origin goes from side to side.
 */
export function edgeMarks(signs: Strokes): number {
  const { height: h } = signs;
  const [from, end] = [Math.round(ZONE[0] * h), Math.ceil(ZONE[1] * h)];
  const sides = [levelAtRim(signs, from - OFF, end + OFF, 1), levelAtRim(signs, from - OFF, end + OFF, -1)];
  let best = 0;
  for (let y = from; y < end; y++) {
    let mark = 0;
    for (const lengths of sides)
      for (const means of lengths) {
        const k = y - from + OFF;
        if (means[k] >= STRONG.least) mark = Math.max(mark, means[k] - Math.max(means[k - OFF], means[k + OFF]));
      }
    if (mark > best) best = Math.max(best, mark - STRONG.cost * Math.max(0, across(signs, y) - STRONG.line));
  }
  return best / 5;
}

/**
 * How strong strokes are along a row from a rim on, rows `from` to `end`, for each length.
 * @param way 1 from the left, -1 from the right
 */
function levelAtRim({ width: w, height: h, strokes }: Strokes, from: number, end: number, way: 1 | -1): Float64Array[] {
  const rim = Math.round(MARK.rim * w) + MARK.pixels;
  const lengths = MARK.lengths.map((share) => Math.max(3, Math.round(share * w)));
  const means = lengths.map(() => new Float64Array(end - from));
  for (let y = Math.max(1, from); y < Math.min(h - 1, end); y++) {
    const first = y * w + (way === 1 ? rim : w - 1 - rim);
    let [sum, x] = [0, 0];
    for (const [which, length] of lengths.entries()) {
      sum += strokesAlong(strokes, first + way * x, length - x, way, w);
      x = length;
      means[which][y - from] = sum / length;
    }
  }
  return means;
}

/** What shows in the middle of the plate of a line that may slant. */
function across({ width: w, height: h, strokes }: Strokes, y: number): number {
  const from = Math.round(0.25 * w);
  const count = Math.ceil((Math.round(0.75 * w) - from) / EVERY);
  let most = 0;
  for (let row = Math.max(1, y - SLANT); row <= Math.min(h - 2, y + SLANT); row++)
    most = Math.max(most, strokesAlong(strokes, row * w + from, count, EVERY, w) / count);
  return most;
}

/** Sum of strokes along a row, `count` places from `i` on, the strongest of three rows each. */
function strokesAlong(strokes: Float32Array, i: number, count: number, step: number, w: number): number {
  let sum = 0;
  for (let k = 0; k < count; k++, i += step)
    sum += Math.min(STRONG.most, Math.max(strokes[i - w], strokes[i], strokes[i + w]));
  return sum;
}
