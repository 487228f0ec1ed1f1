import type { MarkRow, SignalMap } from "../view.ts";
import { levelled } from "./level.ts";
import { CLEAR, FROM, rowsOfMarks, smallMarks } from "./rows.ts";

export { findBroadMarks } from "./broad.ts";

/** Rows of ticks, crosses or figures in the lower part of one photo of a plate, the fullest first. */
export function findMarks(map: SignalMap): MarkRow[] {
  const marks = smallMarks(map.strokes, Math.round(FROM * map.height), CLEAR * map.strokeNoise);
  return rowsOfMarks(marks, map.width, map.height).map((row) => levelled(row, map));
}
