import { figureCentres } from "../figures.ts";
import type { MarkRow } from "../view.ts";
import type { LaneSign } from "./pool.ts";

/** Fewer figures are a note. */
const LEAST = 3;
/** How often such a figure stands over a lane. */
const SURE = 0.5;

/** Figures in rows above the front: some number their lanes there. */
export function headNumbers(rows: readonly MarkRow[], width: number): LaneSign[] {
  return rows.flatMap((row) => {
    const centres = figureCentres(row, width);
    return centres.length < LEAST ? [] : centres.map((x) => ({ x, weight: SURE }));
  });
}
