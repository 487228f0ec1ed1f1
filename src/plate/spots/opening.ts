import { doubleRoom } from "../../math/room.ts";

const behindRoom = doubleRoom();
const aheadRoom = doubleRoom();
const betweenRoom = doubleRoom();

/** Least of each window of 2 reach + 1 values, then the greatest of these: bumps narrower than the window are gone. */
export function opened(values: Float64Array, reach: number): Float64Array {
  return extremes(extremes(values, reach, 1, betweenRoom(values.length)), reach, -1, new Float64Array(values.length));
}

/** The other way round: dips narrower than the window are gone. */
export function closed(values: Float64Array, reach: number): Float64Array {
  return extremes(extremes(values, reach, -1, betweenRoom(values.length)), reach, 1, new Float64Array(values.length));
}

/**
 * The least (sign 1) or the greatest (sign -1) of each window, which is cut off at the ends. Values are taken in blocks as long as a
 * window: each window is the end of one block and the beginning of the next (van Herk 1992, Pattern Recognition Letters 13, 517, from
 * memory).
 */
function extremes(values: Float64Array, reach: number, sign: 1 | -1, out: Float64Array): Float64Array {
  const window = 2 * reach + 1;
  const length = values.length + 2 * reach;
  const behind = behindRoom(length).fill(Number.POSITIVE_INFINITY);
  for (let r = 0; r < values.length; r++) behind[reach + r] = sign * values[r];
  const ahead = aheadRoom(length);
  ahead.set(behind);
  for (let from = 0; from < length; from += window) leastSoFar(behind, ahead, from, Math.min(length, from + window));
  for (let r = 0; r < out.length; r++) out[r] = sign * Math.min(ahead[r], behind[r + 2 * reach]);
  return out;
}

/** Puts into a block's values the least so far, in one copy from its beginning on, in the other from its end. */
function leastSoFar(fromBeginning: Float64Array, fromEnd: Float64Array, from: number, end: number): void {
  for (let i = from + 1; i < end; i++)
    if (fromBeginning[i - 1] < fromBeginning[i]) fromBeginning[i] = fromBeginning[i - 1];
  for (let i = end - 2; i >= from; i--) if (fromEnd[i + 1] < fromEnd[i]) fromEnd[i] = fromEnd[i + 1];
}
