import type { MigrationLine } from "../../model/index.ts";
import { figureCentres } from "../figures.ts";
import { findHeadMarks } from "../marks/index.ts";
import type { SignalMap } from "../view.ts";
import type { LaneSign } from "./pool.ts";

/** Rows nearer than this share of the plate's height to the front are its own, and no figures stand on less than the other at the head. */
const OFF_FRONT = 0.012;
const LEAST_ROOM = 0.02;
/** Fewer figures are a note. */
const LEAST = 3;
/** How often such a figure stands over a lane. */
const SURE = 0.5;

/** Figures in a row above the front: some number their lanes there. */
export function headNumbers(maps: readonly SignalMap[], front: MigrationLine): LaneSign[] {
  return maps.flatMap((map) => {
    const below = Math.floor((front.y - OFF_FRONT) * map.height);
    if (below < LEAST_ROOM * map.height) return [];
    return findHeadMarks(map, below).flatMap((row) => {
      const centres = figureCentres(row, map.width);
      return centres.length < LEAST ? [] : centres.map((x) => ({ x, weight: SURE }));
    });
  });
}
