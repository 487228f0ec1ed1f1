import type { MarkRow, SignalMap } from "../view.ts";
import { levelled } from "./level.ts";
import { CLEAR, FROM, rowsOfMarks, smallMarks } from "./rows.ts";

export { findBroadMarks } from "./broad.ts";
export { findCrosses } from "./crosses.ts";

/** Rows of ticks, crosses or figures in the lower part of one photo of a plate, the fullest first. */
export function findMarks(map: SignalMap): MarkRow[] {
  const marks = smallMarks(map.strokes, Math.round(FROM * map.height), CLEAR * map.strokeNoise);
  return rowsOfMarks(marks, map.width, map.height).map((row) => levelled(row, map));
}

/** How strong a figure above the front is, over a clear mark. */
const FAINT = 0.6;
/** Rows nearer than this share of the plate's height to the front are its own; on less than the other no figures stand. */
const OFF_FRONT = 0.012;
const LEAST_ROOM = 0.02;

/**
 * Rows of figures above the front; fainter ones than by the origin, where nothing else is so even.
 * @param front its height at the plate's middle, as a fraction from the top
 */
export function findHeadMarks({ strokes, strokeNoise, width, height }: SignalMap, front: number): MarkRow[] {
  const below = Math.floor((front - OFF_FRONT) * height);
  if (below < LEAST_ROOM * height) return [];
  const head = { width, height: below, data: strokes.data.subarray(0, below * width) };
  const marks = smallMarks(head, 0, FAINT * CLEAR * strokeNoise, { height });
  return rowsOfMarks(marks, width, height);
}
