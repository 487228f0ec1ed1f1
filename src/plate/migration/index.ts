import type { MigrationLine } from "../../model/index.ts";
import type { MarkRow, SignalMap } from "../view.ts";
import { CUSTOM_FRONT } from "./custom.ts";
import { type Evidence, weightiest } from "./evidence.ts";
import { frontLooks } from "./front.ts";
import { originLooks } from "./origin.ts";
import { assumedOrigin } from "./originRows.ts";
import { sketchOf } from "./sketch.ts";

export interface MigrationOptions {
  /** Heights told by the user, as fractions of the plate's height from the top; null: to be found. */
  readonly origin: number | null;
  readonly front: number | null;
}

export interface Migration {
  readonly origin: MigrationLine;
  readonly front: MigrationLine;
}

/**
 * Finds origin and solvent front of a plate, all its photos together.
 * @param marks rows of pencil marks, one list per photo
 */
export function findMigration(
  maps: readonly SignalMap[],
  marks: readonly (readonly MarkRow[])[],
  options: MigrationOptions,
): Migration {
  const { height } = maps[0];
  const sketches = maps.map(sketchOf);
  const origin = weightiest(originLooks(sketches, marks), height);
  const front = weightiest(frontLooks(sketches), height, LEAST_FRONT);
  return {
    origin: lineFrom(origin, options.origin, assumedOrigin(maps, marks), height),
    front: lineFrom(front, options.front, CUSTOM_FRONT, height),
  };
}

/** A fainter front is more likely something else than the front. */
const LEAST_FRONT = 0.6;

function lineFrom(
  found: Evidence | null,
  given: number | null,
  custom: { readonly y: number; readonly sd: number },
  height: number,
): MigrationLine {
  if (given !== null) {
    const bend = found && Math.abs(found.curve.y / height - given) < 0.03 ? found.curve : { tilt: 0, bow: 0 };
    return { y: given, tilt: bend.tilt / height, bow: bend.bow / height, source: "given", sd: 0.003 };
  }
  if (!found) return { ...custom, tilt: 0, bow: 0, source: "assumed" };
  const { curve } = found;
  return {
    y: curve.y / height,
    tilt: curve.tilt / height,
    bow: curve.bow / height,
    source: "found",
    sd: Math.max(0.001, Math.min(0.01, found.rms / height / 2)),
  };
}
