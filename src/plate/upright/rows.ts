import type { Strokes } from "./signs.ts";

/** Slants that a hand-drawn line or row of marks may have, as rise over the plate's width in parts of its height. */
const TILTS = [-0.03, -0.015, 0, 0.015, 0.03];

const BINS = 24;
const STROKE = 4.5;

/**
 * The row, of those between two shares of the height, along which strokes take up most of the plate's width, the best of some slants;
 * and that share of the width, 0..1.
 */
export function fullestRow(
  { width, height, strokes }: Strokes,
  [from, to]: readonly [number, number],
): { readonly row: number; readonly fill: number } {
  const [first, end] = [Math.round(from * height), Math.min(height, Math.ceil(to * height))];
  const reach = Math.max(1, Math.round(0.006 * height));
  // Slanted rows, and those beside them, begin above and end below.
  const around = reach + riseOf(TILTS[TILTS.length - 1], height, BINS - 1, BINS);
  const top = Math.max(0, first - around);
  const rows = Math.min(height, end + around) - top;
  // Bin by bin, each from the top down.
  const hit = new Uint8Array(BINS * rows);
  const firsts = firstsOfBins(width, BINS, rows);
  for (let y = 0; y < rows; y++) hitInRow(strokes, (top + y) * width, firsts, hit, y);
  const near = withNeighbours(hit, rows, reach);
  const most = new Uint8Array(rows);
  const full = new Uint8Array(rows);
  for (const tilt of TILTS) {
    full.fill(0);
    for (let b = 0; b < BINS; b++) {
      const rise = riseOf(tilt, height, b, BINS);
      addHits(near, b * rows + rise, Math.max(0, -rise), Math.min(rows, rows - rise), full);
    }
    for (let y = 0; y < rows; y++) if (full[y] > most[y]) most[y] = full[y];
  }
  let row = first - top;
  for (let y = row; y < end - top; y++) if (most[y] > most[row]) row = y;
  return { row: top + row, fill: most[row] / BINS };
}

// Functions of their own, which the engine compiles early.

/** @param firsts where the bin of each column begins in `hit` */
function hitInRow(strokes: Float32Array, i: number, firsts: Int32Array, hit: Uint8Array, y: number): void {
  for (let x = 0; x < firsts.length; x++) if (strokes[i + x] > STROKE) hit[firsts[x] + y] = 1;
}

/** Adds a bin, row 0 of which lies at `o`, to rows `from` to `to`, exclusive. */
function addHits(near: Uint8Array, o: number, from: number, to: number, full: Uint8Array): void {
  for (let y = from; y < to; y++) full[y] += near[o + y];
}

/** Where the bin of each column begins, of `count` bins of `rows` rows each, one after the other. */
function firstsOfBins(width: number, count: number, rows: number): Int32Array {
  const firsts = new Int32Array(width);
  for (let x = 0; x < width; x++) firsts[x] = Math.floor((x * count) / width) * rows;
  return firsts;
}

/** How many rows a slanted line lies lower at a bin than in the middle. */
function riseOf(tilt: number, height: number, bin: number, count: number): number {
  return Math.round(tilt * height * (bin / (count - 1) - 0.5));
}

/** Where something was hit in a bin or within `reach` rows above or below. */
function withNeighbours(hit: Uint8Array, height: number, reach: number): Uint8Array {
  const near = new Uint8Array(hit.length);
  for (let first = 0; first < hit.length; first += height) markNear(hit, first, first + height, reach, near);
  return near;
}

function markNear(hit: Uint8Array, from: number, to: number, reach: number, near: Uint8Array): void {
  for (let i = from; i < to; i++) {
    if (hit[i] === 0) continue;
    for (let j = Math.max(from, i - reach); j < Math.min(to, i + reach + 1); j++) near[j] = 1;
  }
}

const TEETH = 48;
const TOOTH = 3.5;
/** Height of a tick, a cross or a figure, as a share of the plate's. */
const SHORTEST = 0.014;
const LONGEST = 0.08;

/**
 * Most upright strokes side by side at one height: ticks, crosses and figures have height, a drawn line has none.
 * @param from share of the height at which to begin
 * @param to share of the height at which to end
 */
export function teethBetween(strokes: Float32Array, width: number, height: number, from: number, to: number): number {
  const y0 = Math.round(from * height);
  const y1 = Math.round(to * height);
  const on = uprightRuns(strokes, width, height, y0, y1);
  let most = 0;
  const rows = y1 - y0;
  const teeth = new Uint8Array(rows);
  let before = new Uint8Array(rows);
  let here = new Uint8Array(rows);
  for (const tilt of TILTS) {
    teeth.fill(0);
    before.fill(0);
    for (let b = 0; b < TEETH; b++) {
      const rise = riseOf(tilt, height, b, TEETH);
      here.fill(0);
      addTeeth(on, b * rows + rise, Math.max(0, -rise), Math.min(rows, rows - rise), before, here, teeth);
      [before, here] = [here, before];
    }
    for (let y = 0; y < rows; y++) if (teeth[y] > most) most = teeth[y];
  }
  return most;
}

/** Counts what begins in a bin, row 0 of which lies at `o`, and was not in the bin before. */
function addTeeth(
  on: Uint8Array,
  o: number,
  from: number,
  to: number,
  before: Uint8Array,
  here: Uint8Array,
  teeth: Uint8Array,
): void {
  for (let y = from; y < to; y++) {
    here[y] = on[o + y];
    teeth[y] += on[o + y] & ~before[y];
  }
}

/** Where upright strokes are, rows `y0` to `y1`: bin by bin, each from the top down. */
function uprightRuns(strokes: Float32Array, width: number, height: number, y0: number, y1: number): Uint8Array {
  const rows = y1 - y0;
  const on = new Uint8Array(TEETH * rows);
  const firsts = firstsOfBins(width, TEETH, rows);
  const least = Math.max(3, SHORTEST * height);
  const most = LONGEST * height;
  // How long the stroke is that each column is in: rows are walked through in the order they are kept in.
  const runs = new Int32Array(width);
  for (let y = 0; y < rows; y++) goOn(strokes, (y0 + y) * width, y, firsts, runs, least, most, on);
  for (let x = 0; x < width; x++) markRun(runs[x], rows, firsts[x], least, most, on);
  return on;
}

/** Lets strokes run on through a row, and marks those that end above it. */
function goOn(
  strokes: Float32Array,
  i: number,
  y: number,
  firsts: Int32Array,
  runs: Int32Array,
  least: number,
  most: number,
  on: Uint8Array,
): void {
  for (let x = 0; x < runs.length; x++) {
    if (strokes[i + x] > TOOTH) runs[x]++;
    else if (runs[x] > 0) {
      markRun(runs[x], y, firsts[x], least, most, on);
      runs[x] = 0;
    }
  }
}

/** Marks a run that ends above row `y` where it is as long as a tooth. */
function markRun(run: number, y: number, first: number, least: number, most: number, on: Uint8Array): void {
  if (run >= least && run <= most) on.fill(1, first + y - run, first + y);
}

/** How many separate peaks a profile shows. */
export function countPeaks(profile: Float32Array): number {
  let top = 0;
  for (let i = 0; i < profile.length; i++) if (profile[i] > top) top = profile[i];
  let peaks = 0;
  let rising = true;
  let bound = 0;
  for (let i = 0; i < profile.length; i++) {
    const v = profile[i];
    if (rising ? v > bound : v < bound) bound = v;
    if (rising && v < 0.6 * bound && bound > 0.12 * top) {
      peaks++;
      rising = false;
      bound = v;
    } else if (!rising && v > bound + 0.08 * top && v > 1.6 * bound) {
      rising = true;
      bound = v;
    }
  }
  return peaks;
}
