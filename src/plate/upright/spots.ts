import { wholeRoom } from "../../math/room.ts";
import { BOLD, SPOT } from "./blobs.ts";
import { countPeaks } from "./rows.ts";
import type { Soft } from "./signs.ts";

/** What the spots of a plate say about its stand. */
export interface SpotEvidence {
  /** Peaks of the spots' profile across the plate over those along it: lanes are many, substances few. */
  readonly lanes: number;
  /** Each spot rises sharply at its head and fades towards the origin, 1, or the other way, -1: summed up over the root of their number. */
  readonly tailing: number;
  /** The same by the third moment of each spot along the plate. */
  readonly skew: number;
  /** Spots are wider near the head than near the foot, as spots are that ran farther: logarithm of the ratio of means. */
  readonly widening: number;
  /** How far below the middle their centre of mass lies: eluents are chosen so that spots stay in the lower half. */
  readonly centre: number;
}

/** Looks at the spots of a plate as if it stood front up. */
export function spotEvidenceOf(signs: Soft): SpotEvidence {
  const strong = strongOf(signs);
  const { columns, rows } = profiles(strong);
  return {
    lanes: (Math.sqrt(countPeaks(columns)) - Math.sqrt(countPeaks(part(rows, 0.12, 0.88)))) / 4,
    ...fading(signs),
    widening: widening(strong),
    centre: centre(strong),
  };
}

/** The pixels of spots, few of all. */
interface Strong {
  readonly width: number;
  readonly height: number;
  readonly spots: Float32Array;
  /** Where they are in `spots`, row by row. */
  readonly places: Int32Array;
  /** Which of them is the first of each row, and their number. */
  readonly starts: Int32Array;
}

/** Room for their places, kept for the next plate. */
const placesRoom = wholeRoom();

function strongOf({ width, height, spots }: Soft): Strong {
  const places = placesRoom(spots.length);
  const starts = new Int32Array(height + 1);
  let count = 0;
  for (let y = 0; y < height; y++) {
    count = strongIn(spots, y * width, (y + 1) * width, places, count);
    starts[y + 1] = count;
  }
  return { width, height, spots, places, starts };
}

/** Adds the places of one row; returns how many they are then. */
function strongIn(spots: Float32Array, from: number, to: number, places: Int32Array, count: number): number {
  for (let i = from; i < to; i++) if (spots[i] >= SPOT) places[count++] = i;
  return count;
}

/** How many spots stand on a row. */
export function spotsOn({ width: w, height: h, spots }: Soft, row: number): number {
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

/** Spots summed up across the plate (the middle rows alone) and along it. */
function profiles({ width: w, height: h, spots, places, starts }: Strong): Record<"columns" | "rows", Float32Array> {
  const columns = new Float32Array(w);
  const rows = new Float32Array(h);
  for (let y = 0; y < h; y++) {
    const middle = y >= 0.2 * h && y < 0.8 * h;
    for (let k = starts[y]; k < starts[y + 1]; k++) {
      const i = places[k];
      const v = Math.min(BOLD, spots[i] - SPOT);
      rows[y] += v;
      if (middle) columns[i - y * w] += v;
    }
  }
  return { columns, rows };
}

/** A spot's least height in pixels, its largest sides as shares of the plate's, and how far from either end it lies. */
const BLOB = { least: 3, width: 0.25, height: 0.6, rim: 0.1 };

/** How the spots fade down the plate, each by itself: a glare or a line that runs into the rim has no say. */
function fading({ width: w, height: h, blobs }: Soft): Pick<SpotEvidence, "tailing" | "skew"> {
  let [tailing, skew, count] = [0, 0, 0];
  for (const { x0, x1, y0, y1, cy, skewY, tailY } of blobs) {
    if (y1 - y0 < BLOB.least || x1 - x0 > BLOB.width * w || y1 - y0 > BLOB.height * h) continue;
    if (cy < BLOB.rim * h || cy > (1 - BLOB.rim) * h) continue;
    tailing += tailY;
    skew += Math.max(-1, Math.min(1, skewY));
    count++;
  }
  const root = Math.sqrt(Math.max(1, count));
  return { tailing: tailing / root, skew: skew / root };
}

/** Level runs within a spot are so strong, and so long as shares of the width; so many of each half make a mean. */
const RUN = { strong: 6, least: 0.015, most: 0.2, enough: 10 };

function widening({ width: w, height: h, spots, places, starts }: Strong): number {
  const sums = [0, 0];
  const counts = [0, 0];
  for (let y = Math.round(0.14 * h); y < 0.86 * h; y++) {
    const half = y > h / 2 ? 1 : 0;
    for (let k = starts[y]; k < starts[y + 1]; ) {
      const first = places[k];
      let run = 0;
      while (k < starts[y + 1] && places[k] === first + run && spots[first + run] > RUN.strong) {
        run++;
        k++;
      }
      if (run === 0) k++;
      if (run <= RUN.least * w || run >= RUN.most * w) continue;
      counts[half]++;
      sums[half] += run;
    }
  }
  if (Math.min(...counts) <= RUN.enough) return 0;
  return Math.log(sums[0] / counts[0] / (sums[1] / counts[1]));
}

function centre({ height: h, spots, places, starts }: Strong): number {
  let turning = 0;
  let mass = 1e-6;
  for (let y = Math.round(0.12 * h); y < 0.88 * h; y++) {
    const place = y / h - 0.5;
    for (let k = starts[y]; k < starts[y + 1]; k++) {
      const v = spots[places[k]];
      if (v <= SPOT + 1) continue;
      turning += Math.min(BOLD, v) * place;
      mass += Math.min(BOLD, v);
    }
  }
  return (3 * turning) / mass;
}
