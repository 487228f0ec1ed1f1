import { connectedPatches } from "../../raster/components.ts";
import { countPeaks } from "./rows.ts";
import type { Signs } from "./signs.ts";

const SPOT = 4;
const BOLD = 20;

/** What the spots of a plate say about its stand. */
export interface SpotEvidence {
  /** Peaks of the spots' profile across the plate over those along it: lanes are many, substances few. */
  readonly lanes: number;
  /** Share of the spots in the lowest tenth, below the origin. */
  readonly belowOrigin: number;
  /** Spots rise sharply at their head and fade towards the origin: 1 all do, -1 the other way. */
  readonly tailing: number;
  /** The same by the third moment of each spot along the plate, summed up over the root of their number. */
  readonly skew: number;
  /** Spots are wider near the head than near the foot, as spots are that ran farther: logarithm of the ratio of means. */
  readonly widening: number;
  /** How far below the middle their centre of mass lies: eluents are chosen so that spots stay in the lower half. */
  readonly centre: number;
}

/** Looks at the spots of a plate as if it stood front up. */
export function spotEvidenceOf(signs: Signs): SpotEvidence {
  const { width: w, height: h, spots } = signs;
  const { columns, rows } = profiles(spots, w, h);
  return {
    lanes: (Math.sqrt(countPeaks(columns)) - Math.sqrt(countPeaks(part(rows, 0.12, 0.88)))) / 4,
    belowOrigin: total(part(rows, 0.9, 1)) / (total(rows) + 1e-6),
    tailing: tailing(spots, w, h),
    skew: skew(signs),
    widening: widening(signs),
    centre: centre(signs),
  };
}

/** How many spots stand on a row. */
export function spotsOn({ width: w, height: h, spots }: Signs, row: number): number {
  const reach = 0.015 * h;
  const profile = new Float32Array(w);
  for (let y = Math.max(0, Math.round(row - reach)); y < Math.min(h, Math.round(row + reach)); y++)
    for (let x = 0; x < w; x++) {
      const v = spots[y * w + x];
      if (v > SPOT - 1) profile[x] += Math.min(BOLD, v - SPOT + 1);
    }
  return countPeaks(profile);
}

function part(profile: Float32Array, from: number, to: number): Float32Array {
  return profile.subarray(Math.round(from * profile.length), Math.round(to * profile.length));
}

function total(profile: Float32Array): number {
  return profile.reduce((sum, v) => sum + v, 0);
}

/** Spots summed up across the plate (the middle rows alone) and along it. */
function profiles(spots: Float32Array, w: number, h: number): { columns: Float32Array; rows: Float32Array } {
  const columns = new Float32Array(w);
  const rows = new Float32Array(h);
  for (let y = 0, i = 0; y < h; y++) {
    const middle = y >= 0.2 * h && y < 0.8 * h;
    for (let x = 0; x < w; x++, i++) {
      if (spots[i] <= SPOT) continue;
      const v = Math.min(BOLD, spots[i] - SPOT);
      rows[y] += v;
      if (middle) columns[x] += v;
    }
  }
  return { columns, rows };
}

/** Third moment of the spots' slope down the plate over its size. */
function tailing(spots: Float32Array, w: number, h: number): number {
  let cube = 0;
  let size = 50;
  for (let y = Math.round(0.1 * h); y < 0.9 * h; y++) {
    for (let x = 0, i = y * w; x < w; x++, i++) {
      if (spots[i] < SPOT) continue;
      const slope = Math.min(30, spots[i + 2 * w]) - Math.min(30, spots[i - 2 * w]);
      cube += slope ** 3;
      size += Math.abs(slope ** 3);
    }
  }
  return cube / size;
}

/** Smallest area of a spot as a share of the plate's, its least height in pixels, and its largest sides as shares. */
const BLOB = { area: 0.0008, least: 6, width: 0.25, height: 0.6, rim: 0.1 };

function skew({ width: w, height: h, spots }: Signs): number {
  const mask = new Uint8Array(w * h);
  for (let i = 0; i < mask.length; i++) if (spots[i] > SPOT) mask[i] = 255;
  let sum = 0;
  let count = 0;
  for (const { x0, x1, y0, y1, cy } of connectedPatches(mask, w, h, Math.round(BLOB.area * w * h))) {
    if (y1 - y0 < BLOB.least || x1 - x0 > BLOB.width * w || y1 - y0 > BLOB.height * h) continue;
    if (cy < BLOB.rim * h || cy > (1 - BLOB.rim) * h) continue;
    const rows = Float64Array.from({ length: y1 - y0 }, (_, k) => {
      let row = 0;
      for (let x = x0, i = (y0 + k) * w + x0; x < x1; x++, i++)
        if (spots[i] > SPOT - 1) row += Math.min(2 * BOLD, spots[i] - SPOT + 1);
      return row;
    });
    sum += Math.max(-1, Math.min(1, thirdMoment(rows)));
    count++;
  }
  return count > 0 ? sum / Math.sqrt(count) : 0;
}

/** Standardised; 0 where all stands in one row. */
function thirdMoment(rows: Float64Array): number {
  const mass = rows.reduce((sum, v) => sum + v, 0);
  const mean = rows.reduce((sum, v, y) => sum + v * y, 0) / mass;
  const moment = (power: number) => rows.reduce((sum, v, y) => sum + v * (y - mean) ** power, 0) / mass;
  const square = moment(2);
  return square > 0 ? moment(3) / square ** 1.5 : 0;
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

function centre({ width: w, height: h, spots }: Signs): number {
  let turning = 0;
  let mass = 1e-6;
  for (let y = Math.round(0.12 * h); y < 0.88 * h; y++)
    for (let x = 0, i = y * w; x < w; x++, i++) {
      if (spots[i] <= SPOT + 1) continue;
      const v = Math.min(BOLD, spots[i]);
      turning += v * (y / h - 0.5);
      mass += v;
    }
  return (3 * turning) / mass;
}
