import { singleRoom } from "../../math/room.ts";
import { boxBlurInto } from "../../raster/blur.ts";
import type { Plane } from "../../raster/picture.ts";
import type { LaneTrack, PlateFrame } from "../frame.ts";
import { opened } from "./opening.ts";
import { lowerSpread, takeOwnGroundOff } from "./ownGround.ts";
import {
  ACROSS,
  across,
  columnWeights,
  crossed,
  cutStrip,
  gapsOf,
  quantile,
  RF_STEPS,
  rfOfRow,
  type Strip,
} from "./strip.ts";

/** One way of looking at one photo: a channel mix and the noise of its ground. */
export interface Aspect {
  readonly plane: Plane;
  readonly noise: number;
  /** 1 where the camera was at its limit; null or left out where it was not. */
  readonly saturated?: Plane | null;
}

/** One aspect's lanes, straightened, with what the whole plate shares taken off. */
export interface LaneProfiles {
  /** Per lane: RF_STEPS x ACROSS, the shared ground removed. */
  readonly strips: readonly Strip[];
  /** Per lane: weighted mean across the lane, per Rf row. */
  readonly profiles: readonly Float64Array[];
  /** Per lane: 1 for the rows whose signal is a lower bound only; null where the camera was nowhere at its limit. */
  readonly saturated: readonly (Uint8Array | null)[];
  /** Standard deviation of such a profile over bare ground, per Rf row: larger where front band or origin line pass. */
  readonly noise: Float64Array;
  /** The same, typical of the whole way. */
  readonly typicalNoise: number;
}

/** Half the length, in rows, below which what the gaps show is a row of wide spots that touch, and no ground: 0.27 in Rf. */
const BAND = 40;
/** How far, in deviations, the gaps may stand out of that before it counts. */
const LET = 0.3;
/** Rows near origin and front are no measure of the ground. */
const GROUND_ROWS = Array.from({ length: RF_STEPS }, (_, r) => r).filter((r) => rfOfRow(r) > 0.06 && rfOfRow(r) < 0.92);
const smoothRoom = singleRoom();

/**
 * Straightens every lane of one aspect and takes off, row by row of the common Rf scale, what the gaps between the
 * lanes show (the front band, pencil lines, a step in the ground): their lower fifth, lifted by what noise alone
 * makes of it, so that wide spots reaching into most gaps do not eat into themselves. Then each lane's own slow ground goes
 * (`ownGround.ts`), so that the blotches of a cloudy ground neither pass for spots nor count as noise.
 * @param spotSigma standard deviation of a typical spot across its lane, in pitches
 */
export function laneProfiles(aspect: Aspect, frame: PlateFrame, spotSigma: number): LaneProfiles {
  // The weight of a matched filter: columns count as a typical spot would fill them.
  const laneWeights = columnWeights((o) => Math.exp(-0.5 * (o / spotSigma) ** 2));
  const { width, height } = aspect.plane;
  const way = Math.abs(frame.origin.y - frame.front.y) * height;
  const ry = Math.max(0, Math.round((way * 1.16) / RF_STEPS / 2 - 0.3));
  const rx = Math.max(0, Math.round((frame.pitch * width * 1.2) / ACROSS / 2 - 0.3));
  const plane = { width, height, data: smoothRoom(width * height) };
  boxBlurInto(aspect.plane, rx, ry, plane.data);
  const strips = frame.tracks.map((t) => cutStrip(plane, frame, t));
  const gaps = rowsOfGaps(strips);
  const lower = Float64Array.from(GROUND_ROWS, (r) => gapAt(gaps, r, 0.4) - gapAt(gaps, r, 0.1)).sort();
  const gapNoise = 0.97 * quantile(lower, 0.5);
  const lowest = new Float64Array(RF_STEPS);
  for (let r = 0; r < RF_STEPS; r++)
    lowest[r] = Math.max(gapAt(gaps, r, 0.2) + 0.84 * gapNoise, Math.min(0, gapAt(gaps, r, 0.5)) - 0.5 * gapNoise);
  const broad = opened(lowest, BAND);
  const shared = lowest.map((v, r) => (crossed(rfOfRow(r)) ? v : Math.min(v, broad[r] + LET * gapNoise)));
  for (const { data } of strips) takeOff(shared, data);
  takeOwnGroundOff(strips, LET * gapNoise);
  const profiles = strips.map((s) => across(s, laneWeights));
  const typicalNoise = Math.max(Math.min(0.7 * gapNoise, lowerSpread(profiles)), 0.15 * aspect.noise, 1e-5);
  return {
    strips,
    profiles,
    saturated: frame.tracks.map((t) =>
      aspect.saturated ? saturatedRows(aspect.saturated, frame, t, laneWeights) : null,
    ),
    noise: rowNoise(gaps, typicalNoise),
    typicalNoise,
  };
}

/** Rows where half of what a spot fills was at the camera's limit. */
function saturatedRows(
  plane: Plane,
  frame: PlateFrame,
  track: LaneTrack,
  laneWeights: Float64Array,
): Uint8Array | null {
  const rows = Uint8Array.from(across(cutStrip(plane, frame, track), laneWeights), (share) => (share > 0.5 ? 1 : 0));
  return rows.includes(1) ? rows : null;
}

/** Takes what all lanes share off a strip, in place. */
function takeOff(shared: Float64Array, data: Float32Array): void {
  for (let r = 0, i = 0; r < RF_STEPS; r++) for (const end = i + ACROSS; i < end; i++) data[i] -= shared[r];
}

/** The mean signal of the gap at each side of each lane: `count` values for each Rf row, sorted. */
interface GapRows {
  readonly count: number;
  readonly values: Float64Array;
}

function rowsOfGaps(strips: readonly Strip[]): GapRows {
  const gaps = strips.flatMap(gapsOf);
  const count = gaps.length;
  const values = new Float64Array(RF_STEPS * count);
  for (let k = 0; k < count; k++) for (let r = 0; r < RF_STEPS; r++) values[r * count + k] = gaps[k][r];
  for (let o = 0; o < values.length; o += count) sortRow(values, o, o + count);
  return { count, values };
}

/** Sorts some values in their place, one put before the other: they are few. */
function sortRow(values: Float64Array, from: number, end: number): void {
  for (let i = from + 1; i < end; i++) {
    const v = values[i];
    let k = i;
    for (; k > from && values[k - 1] > v; k--) values[k] = values[k - 1];
    values[k] = v;
  }
}

/** Value below which the share q of a row's gaps lies; 0 where there is none. */
function gapAt({ count, values }: GapRows, r: number, q: number): number {
  return count === 0 ? 0 : values[r * count + Math.min(count - 1, Math.floor(q * count))];
}

/**
 * Noise per row: the typical one, and where origin line and front band pass the spread of the gaps there, over a few
 * rows (their lower part alone, because spots reach into some of them).
 */
function rowNoise(gaps: GapRows, typical: number): Float64Array {
  const spread = new Float64Array(RF_STEPS);
  for (let r = 0; r < RF_STEPS; r++)
    spread[r] = crossed(rfOfRow(r)) ? Math.max(typical, 1.1 * (gapAt(gaps, r, 0.5) - gapAt(gaps, r, 0.1))) : typical;
  return spread.map((_, r) => {
    let most = 0;
    for (let k = Math.max(0, r - 3); k <= Math.min(RF_STEPS - 1, r + 3); k++) most = Math.max(most, spread[k]);
    return most;
  });
}
