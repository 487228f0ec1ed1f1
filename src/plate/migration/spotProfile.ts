import { doubleRoom, singleRoom } from "../../math/room.ts";
import { selectAt } from "../../math/select.ts";
import type { SignalMap } from "../view.ts";
import { type Stripes, stripesOf } from "./blocks.ts";
import { cut } from "./cut.ts";

/** Upright stripes that spots are looked at in: some lie wholly in a lane. */
const COUNT = 60;
/** Left out at both sides, as a share of the width, and at both ends, of the height: rim. */
const SIDES = 0.05;
const RIM = 0.03;
/** Signal in noise widths from which on a spot counts, and at which in full. */
const FAINT = 4;
const PLAIN = 16;
/** What this share of the stripes shows at least at a height, all of them do: a darker or a wet part of the layer, not spots. */
const ALL_ALONG = 0.2;
/** On a picture with less noise the ground is no more even. */
const LEAST_NOISE = 0.006;
/** Rows over which the end of a streak is looked for, and a spot stands out, as shares of the height. */
const END = 0.018;
const SPOT = 0.022;
/** Responses in noise widths that count nothing, and in full. */
const LEAST = 3;
const MOST = 9;
/** Ends and rests are looked for lower than this, as a share of the height. */
const FROM = 0.5;

/** What of spots is seen at each height of a photo. */
export interface SpotProfile {
  readonly height: number;
  /** Share of the plate covered by spots above row y, and below it. */
  readonly above: Float64Array;
  readonly below: Float64Array;
  /** Share of the width where something ends at row y that lay above it: streaks end at the origin. */
  readonly ends: Float64Array;
  /** Share of the width where something stands out of the rows above and below: what is left lies on the origin. */
  readonly rests: Float64Array;
}

export function spotProfile({ mix, height, ...map }: SignalMap): SpotProfile {
  const noise = Math.max(map.noise, LEAST_NOISE);
  const stripes = stripesOf(mix, COUNT, SIDES, stripesRoom);
  const from = Math.round(RIM * height);
  const to = height - from;
  const covered = new Float64Array(height);
  const ends = new Float64Array(height);
  const rests = new Float64Array(height);
  for (let y = from; y < to; y++) covered[y] = coverOf(stripes, y, noise);
  for (let b = 0; b < COUNT; b++) addEnds(stripes, b, noise, to, ends, rests);
  const above = new Float64Array(height + 1);
  for (let y = 0; y < height; y++) above[y + 1] = above[y] + covered[y] / (COUNT * height);
  const below = above.map((v) => above[height] - v);
  return { height, above, below, ends, rests };
}

const row = new Float32Array(COUNT);
const sumsRoom = doubleRoom();
const stripesRoom = singleRoom();

/** How many stripes are covered by spots at row y. */
function coverOf({ height, data }: Stripes, y: number, noise: number): number {
  let highest = 0;
  let bare = 0;
  for (let b = 0, o = y; b < COUNT; b++, o += height) {
    const v = data[o];
    row[b] = v;
    if (v > highest) highest = v;
    bare += Number(v <= 0);
  }
  if (highest <= FAINT * noise) return 0;
  const shown = Math.floor(ALL_ALONG * COUNT);
  const even = bare > shown ? 0 : Math.max(0, selectAt(row, shown));
  let sum = 0;
  for (let b = 0; b < COUNT; b++) sum += cut(((row[b] - even) / noise - FAINT) / (PLAIN - FAINT), 1);
  return sum;
}

function addEnds(
  { count, height, data }: Stripes,
  b: number,
  noise: number,
  to: number,
  ends: Float64Array,
  rests: Float64Array,
): void {
  const o = b * height;
  const end = Math.max(2, Math.round(END * height));
  const spot = Math.max(3, Math.round(SPOT * height));
  const sums = sumsRoom(height + 1);
  sums[0] = 0;
  for (let y = 0; y < height; y++) sums[y + 1] = sums[y] + data[o + y];
  for (let y = Math.round(FROM * height); y < to - end; y++) {
    const drop = (2 * sums[y] - sums[y - end] - sums[y + end]) / end / noise;
    if (drop > LEAST) ends[y] += cut((drop - LEAST) / (MOST - LEAST), 1) / count;
    const here = (sums[y + 2] - sums[y - 1]) / 3;
    const beside = Math.max(data[o + y - spot], data[o + Math.min(to, y + spot)]);
    const rise = (here - beside) / noise;
    if (rise > LEAST) rests[y] += cut((rise - LEAST) / (MOST - LEAST), 1) / count;
  }
}

/** The rows of the greatest values that are no less than others within `apart` rows, the lowest on the plate first. */
export function crests(values: Float64Array, least: number, apart: number, most: number): number[] {
  const found: number[] = [];
  for (let y = values.length - 1; y >= 0 && found.length < most; y--) {
    if (values[y] < least) continue;
    let top = true;
    for (let k = Math.max(0, y - apart); top && k <= Math.min(values.length - 1, y + apart); k++)
      if (values[k] > values[y] || (values[k] === values[y] && k > y)) top = false;
    if (top) found.push(y);
  }
  return found;
}

/** The greatest value near a row. */
export function greatestNear(values: Float64Array, y: number, reach: number): number {
  let most = 0;
  for (let k = Math.max(0, Math.round(y - reach)); k <= Math.min(values.length - 1, Math.round(y + reach)); k++)
    if (values[k] > most) most = values[k];
  return most;
}
