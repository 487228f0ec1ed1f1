import { singleRoom, wholeRoom } from "../../math/room.ts";
import type { Stripes } from "./blocks.ts";
import { type CurvePieces, PIECE } from "./curvePieces.ts";

/** The curve with the highest sum of responses at one height. */
export interface BestSum {
  readonly y: number;
  readonly sum: number;
  /** Which of the curves it is. */
  readonly index: number;
}

/** Heights, and the curves as the rows by which each of their stripes lies below the height, at most `reach`. */
export interface CurveShifts {
  readonly from: number;
  readonly to: number;
  readonly shifts: Int32Array;
  readonly reach: number;
  readonly pieces: CurvePieces;
}

/** Responses lie between these, in noise widths. */
const LEAST = -1;
const MOST = 3;
/** Pieces of a curve that are added up at once; their number is a multiple of it. */
const FIVE = 5;

// One search is made after the other: they share their room.
const clampedRoom = singleRoom();
const wordsRoom = wholeRoom();
const pieceSumsRoom = wholeRoom();
const boundsRoom = wholeRoom();

/**
 * Sums of clamped responses along many curves at many heights, of which only the highest are wanted, one after the other.
 * Responses rounded up to whole numbers bound them from close above: they are added up a piece of a curve at a time, and two heights
 * in one number, so that exact sums need only be worked out where a height is next, and there for the few curves whose bounds reach
 * the highest (best-first branch and bound; Land and Doig 1960, Econometrica 28, 497). To be asked until the next ones are made.
 */
export class CurveSums {
  private readonly count: number;
  private readonly curves: number;
  private readonly from: number;
  private readonly shifts: Int32Array;
  /** The farthest shift. */
  private readonly reach: number;
  /** Responses in noise widths clamped to -1..3, stripe after stripe: `length` rows from `from - reach` on, 0 off the plate. */
  private readonly clamped: Float32Array;
  private readonly length: number;
  /** Half the rows: the bounds of row k and of row half + k share a number. */
  private readonly half: number;
  /** Whole numbers that a noise width is divided into: as many as sums of 16 bits allow. */
  private readonly parts: number;
  /** Upper bound of each curve at each height: `half` numbers for each curve. */
  private readonly bounds: Int32Array;
  /** The highest sum at each height, of which no more than a bound is known at first; nothing where it is left out. */
  private readonly sums: Float64Array;
  private readonly known: Uint8Array;
  private readonly winners: Int32Array;

  /** @param noise width of the noise; negative turns ridges and valleys over */
  constructor(z: Stripes, noise: number, { from, to, shifts, reach, pieces }: CurveShifts) {
    const rows = to - from + 1;
    this.count = z.count;
    this.curves = shifts.length / z.count;
    this.from = from;
    this.shifts = shifts;
    this.reach = reach;
    this.half = Math.ceil(rows / 2);
    this.length = 2 * (this.half + reach);
    this.clamped = clampedRows(z, noise, from - reach, this.length);
    this.parts = Math.floor(0xffff / ((MOST - LEAST) * z.count));
    this.bounds = this.boundsBy(pieces);
    this.sums = new Float64Array(rows);
    this.known = new Uint8Array(rows);
    this.winners = new Int32Array(rows);
    const tops = new Int32Array(2 * this.half);
    for (let c = 0; c < this.curves; c++) keepTops(this.bounds, c * this.half, this.half, tops);
    for (let k = 0; k < rows; k++) this.sums[k] = this.sumOf(tops[k]);
  }

  /** The highest sum among the heights left, the uppermost of equals, the first of equal curves; null if all are below `least`. */
  next(least: number): BestSum | null {
    const { sums, known, winners } = this;
    for (;;) {
      const top = highest(sums);
      const sum = sums[top];
      if (sum < least || sum === Number.NEGATIVE_INFINITY) return null;
      if (known[top]) return { y: this.from + top, sum, index: winners[top] };
      this.lookInto(top);
    }
  }

  /** Leaves out what lies less than `apart` rows from a height. */
  leaveOut(y: number, apart: number): void {
    const { from, sums } = this;
    for (let k = 0; k < sums.length; k++) if (Math.abs(from + k - y) < apart) sums[k] = Number.NEGATIVE_INFINITY;
  }

  /** What a bound says of a sum: it lies below. */
  private sumOf(bound: number): number {
    // One more than a whole number, for what rounding in the exact sum may add.
    return (bound + 1) / this.parts + LEAST * this.count;
  }

  private boundsBy({ stripe, sample, least, greatest, of }: CurvePieces): Int32Array {
    const { count, curves, half, reach, shifts } = this;
    const wide = half + 2 * reach;
    const words = this.words(wide);
    // Where each piece's sums would begin if it had no shift.
    const starts = new Int32Array(stripe.length);
    let length = 0;
    for (let p = 0; p < stripe.length; p++) {
      starts[p] = length - least[p];
      length += half + greatest[p] - least[p];
    }
    const sums = pieceSumsRoom(length);
    for (let p = 0, o = 0; p < stripe.length; p++) {
      const end = o + half + greatest[p] - least[p];
      addStripes(words, stripe[p] * wide + reach + least[p], wide, shifts, sample[p], sums, o, end);
      o = end;
    }
    const places = count / PIECE;
    const bounds = boundsRoom(curves * half);
    const at = new Int32Array(places);
    for (let c = 0; c < curves; c++) {
      for (let place = 0; place < places; place++)
        at[place] = starts[of[c * places + place]] + shifts[c * count + place * PIECE];
      addPieces(sums, at, bounds, c * half, half);
    }
    return bounds;
  }

  /** Responses in whole numbers from 0 on, rounded up, each with that of the row `half` further on in its upper 16 bits. */
  private words(wide: number): Int32Array {
    const { count, length, half, clamped, parts } = this;
    const words = wordsRoom(count * wide);
    for (let b = 0; b < count; b++) packRow(clamped, b * length, half, parts, words, b * wide, wide);
    return words;
  }

  /** Works out the highest sum at a height, and which curve it is of. */
  private lookInto(k: number): void {
    const { curves, bounds, half, sums, known, winners } = this;
    const [o, shift] = k < half ? [k, 0] : [k - half, 16];
    let likely = 0;
    for (let c = 1; c < curves; c++)
      if (boundAt(bounds, o + c * half, shift) > boundAt(bounds, o + likely * half, shift)) likely = c;
    let best = this.sumAlong(likely, k);
    let winner = likely;
    for (let c = 0; c < curves; c++) {
      if (c === likely || this.sumOf(boundAt(bounds, o + c * half, shift)) < best) continue;
      const sum = this.sumAlong(c, k);
      if (sum < best || (sum === best && c > winner)) continue;
      best = sum;
      winner = c;
    }
    sums[k] = best;
    winners[k] = winner;
    known[k] = 1;
  }

  private sumAlong(curve: number, k: number): number {
    const { count, length, clamped, shifts, reach } = this;
    let sum = 0;
    for (let i = curve * count, stop = i + count, o = k + reach; i < stop; i++, o += length)
      sum += clamped[o + shifts[i]];
    return sum;
  }
}

// Loops over rows are functions of their own: the engine compiles those early.

function highest(sums: Float64Array): number {
  let top = 0;
  for (let k = 1; k < sums.length; k++) if (sums[k] > sums[top]) top = k;
  return top;
}

function boundAt(bounds: Int32Array, i: number, shift: number): number {
  return (bounds[i] >>> shift) & 0xffff;
}

/**
 * Sums of one row each of a piece's four stripes.
 * @param at the first row of its first stripe
 * @param piece where in `shifts` a curve has it
 */
function addStripes(
  words: Int32Array,
  at: number,
  wide: number,
  shifts: Int32Array,
  piece: number,
  sums: Int32Array,
  from: number,
  end: number,
): void {
  const o0 = at - from;
  const o1 = o0 + wide + shifts[piece + 1] - shifts[piece];
  const o2 = o0 + 2 * wide + shifts[piece + 2] - shifts[piece];
  const o3 = o0 + 3 * wide + shifts[piece + 3] - shifts[piece];
  for (let i = from; i < end; i++) sums[i] = words[o0 + i] + words[o1 + i] + words[o2 + i] + words[o3 + i];
}

/** Sums of one row each of a curve's pieces, whose first ones are at `at`; of five pieces at a time, so that few need be kept between. */
function addPieces(sums: Int32Array, at: Int32Array, bounds: Int32Array, o: number, half: number): void {
  bounds.fill(0, o, o + half);
  for (let place = 0; place < at.length; place += FIVE)
    addFive(sums, at[place], at[place + 1], at[place + 2], at[place + 3], at[place + 4], bounds, o, half);
}

function addFive(
  sums: Int32Array,
  i0: number,
  i1: number,
  i2: number,
  i3: number,
  i4: number,
  bounds: Int32Array,
  o: number,
  half: number,
): void {
  for (let k = 0; k < half; k++)
    bounds[o + k] += sums[i0 + k] + sums[i1 + k] + sums[i2 + k] + sums[i3 + k] + sums[i4 + k];
}

function keepTops(bounds: Int32Array, o: number, half: number, tops: Int32Array): void {
  for (let k = 0; k < half; k++) {
    const two = bounds[o + k];
    tops[k] = Math.max(tops[k], two & 0xffff);
    tops[half + k] = Math.max(tops[half + k], two >>> 16);
  }
}

function packRow(
  clamped: Float32Array,
  from: number,
  half: number,
  parts: number,
  words: Int32Array,
  o: number,
  wide: number,
): void {
  for (let i = 0; i < wide; i++) {
    const low = Math.ceil((clamped[from + i] - LEAST) * parts);
    const high = Math.ceil((clamped[from + half + i] - LEAST) * parts);
    words[o + i] = low | (high << 16);
  }
}

function clampedRows({ count, height, data }: Stripes, noise: number, from: number, length: number): Float32Array {
  const clamped = clampedRoom(count * length);
  clamped.fill(0);
  const first = Math.max(0, -from);
  const end = Math.min(length, height - from);
  for (let b = 0; b < count; b++)
    clampRows(data, b * height + from + first, b * height + from + end, noise, clamped, b * length + first);
  return clamped;
}

function clampRows(data: Float32Array, from: number, end: number, noise: number, out: Float32Array, i: number): void {
  for (let o = from; o < end; o++, i++) out[i] = Math.max(LEAST, Math.min(MOST, data[o] / noise));
}
