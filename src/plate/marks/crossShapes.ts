import type { Patch } from "../../raster/components.ts";
import type { Plane } from "../../raster/picture.ts";
import { strongest } from "./rows.ts";

/** Crosses are no smaller and no larger, as shares of the longer side. */
const SIZE = { least: 0.018, most: 0.05 };
/** A tick and its figure together are no higher and no wider, as a share of the longer side. */
const TALL = 0.13;
/** How long one side of a cross may be, the other being 1. */
const SQUARE = 1.35;

/**
 * The cross that a mark is, or that stands on top of a figure it touches: its upper part that is most like one; null: none.
 * @param faint strokes are followed down to this
 * @param longer longer side of the plate, in pixels
 */
export function crossIn(mark: Patch, strokes: Plane, faint: number, longer: number): Patch | null {
  const smallest = Math.ceil(SIZE.least * longer);
  let best: { readonly patch: Patch; readonly plain: number } | null = null;
  for (let h = smallest; h <= Math.min(SIZE.most * longer, mark.y1 - mark.y0); h++) {
    const own = upperPart(mark, h, strokes, faint);
    const w = own.x1 - own.x0;
    if (w < smallest || w > SQUARE * h || h > SQUARE * w) continue;
    const plain = crossness(own, strokes);
    if (plain > (best?.plain ?? 0)) best = { patch: own, plain };
  }
  if (best === null) return null;
  const { x0, x1, y0, y1 } = best.patch;
  return { ...best.patch, cx: (x0 + x1) / 2, cy: (y0 + y1) / 2 };
}

/** A tick is so many times as long as wide at least, this share of the mark that it stands on, and that is so many times as wide. */
const TICK = { slender: 2.2, from: 0.22, to: 0.6, wider: 1.7 };

const HALO = 0.15;

/** The tick that stands on a figure it touches: its upper rows, as many as are most slender; null: none. */
export function tickOn(mark: Patch, strokes: Plane, faint: number, longer: number): Patch | null {
  const whole = mark.y1 - mark.y0;
  if (Math.max(whole, mark.x1 - mark.x0) > TALL * longer) return null;
  // Round a bold mark, sharpening and compression leave what is no pencil.
  const drawn = Math.max(faint, HALO * strongest(strokes, mark));
  let tick: Patch | null = null;
  let slender: number = TICK.slender;
  for (let h = Math.ceil(TICK.from * whole); h <= TICK.to * whole; h++) {
    const own = upperPart(mark, h, strokes, drawn);
    const long = h / (own.x1 - own.x0);
    if (long >= slender) [tick, slender] = [own, long];
  }
  if (tick === null || mark.x1 - mark.x0 < TICK.wider * (tick.x1 - tick.x0)) return null;
  return { ...tick, cx: (tick.x0 + tick.x1) / 2, cy: (tick.y0 + tick.y1) / 2 };
}

/** The uppermost rows of a mark, no wider than what they hold. */
function upperPart(mark: Patch, rows: number, { width, data }: Plane, faint: number): Patch {
  let [x0, x1] = [mark.x1, mark.x0];
  for (let y = mark.y0; y < mark.y0 + rows; y++) {
    let x = mark.x0;
    while (x < x0 && data[y * width + x] <= faint) x++;
    x0 = Math.min(x0, x);
    x = mark.x1;
    while (x > x1 && data[y * width + x - 1] <= faint) x--;
    x1 = Math.max(x1, x);
  }
  return { ...mark, x0, x1, y1: mark.y0 + rows };
}

/** Each arm's end holds at least this share of a cross; all that is no end and no middle at most that. */
const END = 0.065;
const BESIDE = { upright: 0.16, slanted: 0.34 };

/**
 * How plainly two strokes cross in the middle, upright or slanted: of nine fields four ends are full, and the four between them are not.
 * @returns what the poorest end holds, as a share of all; 0 where it is no cross
 */
function crossness({ x0, y0, x1, y1 }: Patch, strokes: Plane): number {
  const cells = new Float64Array(9);
  let sum = 0;
  for (let y = y0; y < y1; y++)
    for (let x = x0; x < x1; x++) {
      const v = Math.max(0, strokes.data[y * strokes.width + x]);
      cells[3 * Math.floor((3 * (y - y0)) / (y1 - y0)) + Math.floor((3 * (x - x0)) / (x1 - x0))] += v;
      sum += v;
    }
  const [a, up, b, left, , right, c, down, d] = cells.map((v) => v / sum);
  const [upright, slanted] = [Math.min(up, left, right, down), Math.min(a, b, c, d)];
  if (upright > END && a + b + c + d < BESIDE.upright) return upright;
  return slanted > END && up + left + right + down < BESIDE.slanted ? slanted : 0;
}
