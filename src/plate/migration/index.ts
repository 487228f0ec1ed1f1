import type { MigrationLine } from "../../model/index.ts";
import type { MarkRow, SignalMap } from "../view.ts";
import { CUSTOM_FRONT } from "./custom.ts";
import { type Evidence, ranked } from "./evidence.ts";
import { frontLooks } from "./front.ts";
import { originLooks } from "./origin.ts";
import { assumedOrigin } from "./originRows.ts";
import { sketchOf } from "./sketch.ts";

export interface MigrationOptions {
  /** Heights told by the user, as fractions of the plate's height from the top; null: to be found. */
  readonly origin: number | null;
  readonly front: number | null;
}

/** What the photos show that may be the line. */
export interface LineCandidate {
  /** As it lies, with the uncertainty that it has if it is the line; its source is `found`. */
  readonly line: MigrationLine;
  /**
   * How much speaks for it, 0 and more, in one scale for all plates: how often people leave such a line at its height is
   * counted in. About 1 is a plain line in one look; below `LEAST_FRONT` (0.6) a front is none by itself.
   */
  readonly weight: number;
}

export interface Migration {
  readonly origin: MigrationLine;
  readonly front: MigrationLine;
  /**
   * What may be the origin and what may be the front, the weightiest first, five at most, no two within 0.008 of the height;
   * empty where nothing shows. Where a line is found it is the first of them, whatever else a told height says.
   */
  readonly origins: readonly LineCandidate[];
  readonly fronts: readonly LineCandidate[];
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
  const origins = ranked(originLooks(sketches, marks), height);
  const fronts = ranked(frontLooks(sketches), height);
  const front = fronts.find((one) => one.weight > LEAST_FRONT);
  return {
    origin: lineFrom(origins[0], options.origin, assumedOrigin(maps, marks), height),
    front: lineFrom(front, options.front, CUSTOM_FRONT, height),
    origins: origins.map((one) => candidate(one, height)),
    fronts: fronts.map((one) => candidate(one, height)),
  };
}

/** A fainter front is more likely something else than the front. */
const LEAST_FRONT = 0.6;

function lineFrom(
  found: Evidence | undefined,
  given: number | null,
  custom: { readonly y: number; readonly sd: number },
  height: number,
): MigrationLine {
  if (given !== null) {
    const bend = found && Math.abs(found.curve.y / height - given) < 0.03 ? found.curve : { tilt: 0, bow: 0 };
    return { y: given, tilt: bend.tilt / height, bow: bend.bow / height, source: "given", sd: 0.003 };
  }
  return found ? candidate(found, height).line : { ...custom, tilt: 0, bow: 0, source: "assumed" };
}

function candidate({ curve, rms, weight }: Evidence, height: number): LineCandidate {
  const line: MigrationLine = {
    y: curve.y / height,
    tilt: curve.tilt / height,
    bow: curve.bow / height,
    source: "found",
    sd: Math.max(0.001, Math.min(0.01, rms / height / 2)),
  };
  return { line, weight };
}
