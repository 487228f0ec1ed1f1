import type { Stripes } from "./blocks.ts";

/** The curve with the highest sum of responses at one height. */
export interface BestSum {
  readonly y: number;
  readonly sum: number;
  /** Which of the curves it is. */
  readonly index: number;
}

/**
 * Sums of clamped responses along many curves at many heights, of which only the highest are wanted, one after the other.
 * Heights are taken in blocks: the sum of each stripe's highest response within a block bounds the sums at all its heights,
 * so that most blocks need never be looked into (best-first branch and bound; Land and Doig 1960, Econometrica 28, 497).
 */
export class CurveSums {
  private readonly count: number;
  private readonly curves: number;
  private readonly from: number;
  private readonly rows: number;
  /** Rows in a block, a power of 2, and number of blocks. */
  private readonly size: number;
  private readonly blocks: number;
  /** Responses in noise widths clamped to -1..3, stripe after stripe: `length` rows from `from - reach` on, 0 off the plate. */
  private readonly clamped: Float32Array;
  private readonly length: number;
  private readonly shifts: Int32Array;
  /** The farthest shift. */
  private readonly reach: number;
  /** Upper bound for each curve in each block, block after block, and for each block. */
  private readonly bounds: Float32Array;
  private readonly blockBounds: Float64Array;
  private readonly sums: Float64Array;
  private readonly winners: Int32Array;
  /** The heights that are not left out yet. */
  private readonly left: Uint8Array;
  /** Whether a block was looked into: all its sums not below its bound are known then, and all below are not wanted yet. */
  private readonly known: Uint8Array;

  /**
   * @param noise width of the noise; negative turns ridges and valleys over
   * @param search heights, and the curves by the rows by which each of their stripes lies below the height, at most `reach`
   * @param thickness rows over which responses hardly change
   */
  constructor(
    z: Stripes,
    noise: number,
    { from, to, shifts, reach }: { from: number; to: number; shifts: Int32Array; reach: number },
    thickness: number,
  ) {
    this.count = z.count;
    this.curves = shifts.length / z.count;
    this.from = from;
    this.rows = to - from + 1;
    this.size = thickness < BROAD ? 4 : 8;
    this.blocks = Math.ceil(this.rows / this.size);
    this.shifts = shifts;
    this.reach = reach;
    // One block more than is read, for the last one's bounds.
    this.length = (this.blocks + 2 + Math.ceil((2 * reach) / this.size)) * this.size;
    this.clamped = clampedRows(z, noise, from - reach, this.length);
    this.bounds = new Float32Array(this.curves * this.blocks);
    this.blockBounds = new Float64Array(this.blocks).fill(Number.NEGATIVE_INFINITY);
    this.known = new Uint8Array(this.blocks);
    this.sums = new Float64Array(this.rows).fill(Number.NEGATIVE_INFINITY);
    this.winners = new Int32Array(this.rows);
    this.left = new Uint8Array(this.rows).fill(1);
    this.bound();
  }

  /** The highest sum among the heights left, the uppermost of equals, the first of equal curves; null if all are below `least`. */
  next(least: number): BestSum | null {
    for (;;) {
      let top = -1;
      for (let k = 0; k < this.rows; k++) if (this.left[k] && (top < 0 || this.sums[k] > this.sums[top])) top = k;
      if (top < 0) return null;
      const floor = Math.max(least, this.sums[top]);
      let block = -1;
      for (let j = 0; j < this.blocks; j++)
        if (this.mayReach(j, floor) && (block < 0 || this.blockBounds[j] > this.blockBounds[block])) block = j;
      if (block >= 0) this.lookInto(block, floor);
      else if (this.sums[top] < least) return null;
      else return { y: this.from + top, sum: this.sums[top], index: this.winners[top] };
    }
  }

  /** Leaves out what lies less than `apart` rows from a height. */
  leaveOut(y: number, apart: number): void {
    for (let k = 0; k < this.rows; k++) if (Math.abs(this.from + k - y) < apart) this.left[k] = 0;
    for (let j = 0; j < this.blocks; j++) {
      const [first, end] = this.rowsOf(j);
      if (!this.left.subarray(first, end).includes(1)) this.blockBounds[j] = Number.NEGATIVE_INFINITY;
    }
  }

  /** Whether a block may hold a sum that is not known yet and no lower than `floor`. */
  private mayReach(block: number, floor: number): boolean {
    return this.known[block] ? this.blockBounds[block] > floor : this.blockBounds[block] >= floor;
  }

  private rowsOf(block: number): readonly [number, number] {
    return [block * this.size, Math.min(this.rows, (block + 1) * this.size)];
  }

  private bound(): void {
    const { count, size, blocks, shifts, reach, bounds, blockBounds } = this;
    const { tops, stride } = this.topsOfBlocks();
    const per = stride * size;
    const shift = Math.log2(size);
    // Where a stripe's highest responses begin that the curve passes: those of one phase stand side by side.
    const place = (i: number, b: number) => {
      const start = shifts[i] + reach;
      return b * per + (start & (size - 1)) * stride + (start >> shift);
    };
    const sums = new Float64Array(blocks);
    for (let c = 0; c < this.curves; c++) {
      sums.fill(0);
      const o = c * count;
      let b = 0;
      for (; b + 4 <= count; b += 4)
        addFour(tops, place(o + b, b), place(o + b + 1, b + 1), place(o + b + 2, b + 2), place(o + b + 3, b + 3), sums);
      for (; b < count; b++) addOne(tops, place(o + b, b), sums);
      keepBounds(sums, bounds, c, this.curves, blockBounds);
    }
  }

  /** Each stripe's highest response in the `size` rows from each row on, rows of one remainder by `size` side by side. */
  private topsOfBlocks(): { tops: Float32Array; stride: number } {
    const { count, size, length, clamped } = this;
    const stride = length / size;
    const tops = new Float32Array(count * length);
    const row = new Float32Array(length);
    for (let b = 0; b < count; b++) {
      row.set(clamped.subarray(b * length, (b + 1) * length));
      for (let step = 1; step < size; step *= 2) greaterOf(row, step);
      for (let phase = 0, k = b * length; phase < size; phase++)
        for (let i = phase; i < length; i += size) tops[k++] = row[i];
    }
    return { tops, stride };
  }

  /** Works out the sums in a block that are no lower than `least`, or than a sum which is found there at once. */
  private lookInto(block: number, least: number): void {
    const { curves, bounds, left, known, blockBounds } = this;
    const [first, end] = this.rowsOf(block);
    // What was looked into before: these curves are known.
    const seen = known[block] ? blockBounds[block] : Number.POSITIVE_INFINITY;
    const o = block * curves;
    const likely = highestBelow(bounds, o, o + curves, seen);
    let floor = least;
    if (likely >= 0) {
      this.addUp(likely - o, first, end);
      for (let k = first; k < end; k++) if (left[k] && this.sums[k] > floor) floor = this.sums[k];
    }
    for (let c = 0; c < curves; c++) if (bounds[o + c] >= floor && bounds[o + c] < seen) this.addUp(c, first, end);
    known[block] = 1;
    blockBounds[block] = floor;
  }

  /** Sums along a curve at the heights of a block, kept where they are the best. */
  private addUp(curve: number, first: number, end: number): void {
    const { count, length, clamped, shifts, reach } = this;
    for (let row = first; row < end; row += 4) {
      let s0 = 0;
      let s1 = 0;
      let s2 = 0;
      let s3 = 0;
      for (let i = curve * count, stop = i + count, o = row + reach; i < stop; i++, o += length) {
        const at = o + shifts[i];
        s0 += clamped[at];
        s1 += clamped[at + 1];
        s2 += clamped[at + 2];
        s3 += clamped[at + 3];
      }
      this.keep(row, s0, curve);
      if (row + 1 < end) this.keep(row + 1, s1, curve);
      if (row + 2 < end) this.keep(row + 2, s2, curve);
      if (row + 3 < end) this.keep(row + 3, s3, curve);
    }
  }

  private keep(k: number, sum: number, curve: number): void {
    const { sums, winners } = this;
    if (sum > sums[k] || (sum === sums[k] && curve < winners[k])) {
      sums[k] = sum;
      winners[k] = curve;
    }
  }
}

/** From this thickness on, responses change little enough over eight rows. */
const BROAD = 8;
/** More than what single precision takes off a sum of responses. */
const ROUNDING = 1e-4;

// Loops over rows and blocks are functions of their own: the engine compiles those early.

function greaterOf(row: Float32Array, step: number): void {
  for (let i = 0; i + step < row.length; i++) if (row[i + step] > row[i]) row[i] = row[i + step];
}

function addFour(tops: Float32Array, i0: number, i1: number, i2: number, i3: number, sums: Float64Array): void {
  for (let j = 0; j < sums.length; j++) sums[j] = sums[j] + tops[i0 + j] + tops[i1 + j] + tops[i2 + j] + tops[i3 + j];
}

/** Where the first of the highest bounds below `most` is; -1 where there is none. */
function highestBelow(bounds: Float32Array, from: number, to: number, most: number): number {
  let at = -1;
  let top = Number.NEGATIVE_INFINITY;
  for (let i = from; i < to; i++) {
    if (bounds[i] >= most || (at >= 0 && bounds[i] <= top)) continue;
    top = bounds[i];
    at = i;
  }
  return at;
}

function addOne(tops: Float32Array, i: number, sums: Float64Array): void {
  for (let j = 0; j < sums.length; j++) sums[j] += tops[i + j];
}

function keepBounds(
  sums: Float64Array,
  bounds: Float32Array,
  curve: number,
  curves: number,
  blockBounds: Float64Array,
): void {
  for (let j = 0, i = curve; j < sums.length; j++, i += curves) {
    bounds[i] = sums[j] + ROUNDING;
    if (sums[j] > blockBounds[j]) blockBounds[j] = sums[j];
  }
}

function clampedRows({ count, height, data }: Stripes, noise: number, from: number, length: number): Float32Array {
  const clamped = new Float32Array(count * length);
  const first = Math.max(0, -from);
  const end = Math.min(length, height - from);
  for (let b = 0; b < count; b++)
    clampRows(data, b * height + from + first, b * height + from + end, noise, clamped, b * length + first);
  return clamped;
}

function clampRows(data: Float32Array, from: number, end: number, noise: number, out: Float32Array, i: number): void {
  for (let o = from; o < end; o++, i++) out[i] = Math.max(-1, Math.min(3, data[o] / noise));
}
