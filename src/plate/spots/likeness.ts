import { doubleRoom } from "../../math/room.ts";
import { courseOf, heightAt, type Peak, sigmaBack, sigmaFront } from "./peaks.ts";
import { ACROSS, offsetOfColumn, RF_STEPS, type Strip } from "./strip.ts";

/** How wide a spot is taken to be across its lane, in pitches: standard deviation. */
const ACROSS_SIGMA = { least: 0.08, most: 0.25 };
const spotRoom = doubleRoom();
const seenRoom = doubleRoom();
const TO_SIGMA = 1 / (2 * Math.sqrt(2 * Math.LN2));

/**
 * How much a lane looks like a spot where a peak was found: correlation, -1..1, of its signal with a Gaussian spot of the
 * peak's widths, both less a plane. Near 1 for a clear spot; noise, blotches, scratches and edges look less like one.
 * @param width full width at half maximum across the lane, in pitches
 */
export function likenessOf(strip: Strip, peak: Peak, width: number): number {
  const sigma = Math.min(ACROSS_SIGMA.most, Math.max(ACROSS_SIGMA.least, width * TO_SIGMA));
  const from = Math.max(0, Math.floor(peak.mode - 2.6 * sigmaBack(peak)));
  const to = Math.min(RF_STEPS - 1, Math.ceil(peak.mode + 2.6 * sigmaFront(peak)));
  const shape = courseOf({ ...peak, height: 1, flat: 0 });
  const rows = Math.max(0, to - from + 1);
  const spot = spotRoom(rows * ACROSS);
  const seen = seenRoom(rows * ACROSS);
  const across = Float64Array.from({ length: ACROSS }, (_, c) => Math.exp(-0.5 * (offsetOfColumn(c) / sigma) ** 2));
  for (let r = from, i = 0; r <= to; r++) {
    const along = heightAt(shape, r);
    for (let c = 0; c < ACROSS; c++, i++) {
      spot[i] = along * across[c];
      seen[i] = strip.data[r * ACROSS + c];
    }
  }
  takePlaneOff(spot, rows);
  takePlaneOff(seen, rows);
  return dot(spot, seen) / Math.sqrt(dot(spot, spot) * dot(seen, seen) + 1e-18);
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}

/** Takes the mean and the slopes along and across off a window of rows x ACROSS values. */
function takePlaneOff(values: Float64Array, rows: number): void {
  const middle = { row: (rows - 1) / 2, column: (ACROSS - 1) / 2 };
  let mean = 0;
  let along = 0;
  let across = 0;
  let alongNorm = 1e-12;
  let acrossNorm = 1e-12;
  for (let r = 0, i = 0; r < rows; r++) {
    const dr = r - middle.row;
    for (let c = 0; c < ACROSS; c++, i++) {
      const v = values[i];
      const dc = c - middle.column;
      mean += v / values.length;
      along += v * dr;
      across += v * dc;
      alongNorm += dr * dr;
      acrossNorm += dc * dc;
    }
  }
  for (let r = 0, i = 0; r < rows; r++) {
    const dr = r - middle.row;
    for (let c = 0; c < ACROSS; c++, i++)
      values[i] -= mean + (along / alongNorm) * dr + (across / acrossNorm) * (c - middle.column);
  }
}
