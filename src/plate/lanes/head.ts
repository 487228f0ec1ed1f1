import type { MigrationLine } from "../../model/index.ts";
import { figureCentres } from "../figures.ts";
import { CLEAR, rowsOfMarks, smallMarks } from "../marks/rows.ts";
import type { SignalMap } from "../view.ts";
import type { LaneSign } from "./pool.ts";

/** Rows nearer than this share of the plate's height to the front are its own. */
const OFF_FRONT = 0.012;
/** Fewer figures are a note. */
const LEAST = 3;
/** How often such a figure stands over a lane. */
const SURE = 0.5;
const LEAST_AREA = 7;

/** Figures in a row above the front: some number their lanes there. */
export function headNumbers(maps: readonly SignalMap[], front: MigrationLine): LaneSign[] {
  return maps.flatMap(({ strokes, strokeNoise, width, height }) => {
    const rows = Math.floor((front.y - OFF_FRONT) * height);
    if (rows < 0.02 * height) return [];
    const head = { width, height: rows, data: strokes.data.subarray(0, rows * width) };
    const marks = smallMarks(head, 0, 0.6 * CLEAR * strokeNoise, { leastArea: LEAST_AREA, height });
    return rowsOfMarks(marks, width, height).flatMap((row) => {
      const centres = figureCentres(row, width);
      return centres.length < LEAST ? [] : centres.map((x) => ({ x, weight: SURE }));
    });
  });
}
