import type { MarkRow, SignalMap } from "../view.ts";
import { levelled } from "./level.ts";
import { rowsOfMarks, smallMarks } from "./rows.ts";

/** Share of the plate's height below which origin marks and lane labels stand. */
const FROM = 0.62;
/** A mark holds at least one pixel this many noise widths strong. */
const CLEAR = 9;

/** Rows of ticks, crosses or figures in the lower part of one photo of a plate, the fullest first. */
export function findMarks(map: SignalMap): MarkRow[] {
  const marks = smallMarks(map.strokes, Math.round(FROM * map.height), CLEAR * map.strokeNoise);
  return rowsOfMarks(marks, map.width, map.height).map((row) => levelled(row, map));
}
