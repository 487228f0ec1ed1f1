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
  const origins = ranked(originLooks(sketches, marks), height);
  const fronts = ranked(frontLooks(sketches), height);
  const plain = origins.find((one) => one.weight > LEAST_ORIGIN);
  const front = fronts.find((one) => one.weight > leastFront(one, maps[0]));
  return {
    origin: lineFrom(plain, options.origin, likelyOrigin(origins, maps, marks), height),
    front: lineFrom(front, options.front, assumedFront(fronts, maps[0]), height),
  };
}

/** A fainter origin is taken for granted only, and lies so far off at times. */
const LEAST_ORIGIN = 0.6;
const FAINT_ORIGIN = { least: 0.05, sd: 0.045 };

/** Where the origin is taken to be if nothing shows it plainly: where something shows, if no more than faintly. */
function likelyOrigin(
  origins: readonly Evidence[],
  maps: readonly SignalMap[],
  marks: readonly (readonly MarkRow[])[],
): Assumed {
  const faint = origins.find((one) => one.weight > FAINT_ORIGIN.least);
  if (!faint) return assumedOrigin(maps, marks);
  const { y, tilt, bow } = seen(faint, maps[0].height);
  return { y, tilt, bow, sd: FAINT_ORIGIN.sd };
}

/** A fainter front is more likely something else than the front. */
const LEAST_FRONT = 0.6;
/** Nearer to the end than this, as a share of the longer side, what shows in one way alone is the rim. */
const RIM = { near: 0.05, least: 1.6 };
/** A front as faint as this is likelier than the customary place if it lies so near to that: assumed, and so far off at times. */
const FAINT_FRONT = { least: 0.4, sd: 0.05, near: 0.09 };

function atRim({ curve }: Evidence, { width, height }: SignalMap): boolean {
  return curve.y + curve.bow / 3 < RIM.near * Math.max(width, height);
}

function leastFront(one: Evidence, map: SignalMap): number {
  return atRim(one, map) ? RIM.least : LEAST_FRONT;
}

/** Where the front is taken to be if nothing shows it plainly. */
function assumedFront(fronts: readonly Evidence[], map: SignalMap): Assumed {
  const near = ({ curve }: Evidence) => Math.abs(curve.y / map.height - CUSTOM_FRONT.y) < FAINT_FRONT.near;
  const faint = fronts.find((one) => one.weight > FAINT_FRONT.least && near(one) && !atRim(one, map));
  if (!faint) return CUSTOM_FRONT;
  const { y, tilt, bow } = seen(faint, map.height);
  return { y, tilt, bow, sd: FAINT_FRONT.sd };
}

/** A line that is taken for granted: level if nothing else is said. */
type Assumed = Pick<MigrationLine, "y" | "sd"> & Partial<Pick<MigrationLine, "tilt" | "bow">>;

function lineFrom(found: Evidence | undefined, given: number | null, assumed: Assumed, height: number): MigrationLine {
  if (given !== null) {
    const bend = found && Math.abs(found.curve.y / height - given) < 0.03 ? found.curve : { tilt: 0, bow: 0 };
    return { y: given, tilt: bend.tilt / height, bow: bend.bow / height, source: "given", sd: 0.003 };
  }
  return found ? seen(found, height) : { tilt: 0, bow: 0, ...assumed, source: "assumed" };
}

/** A line as it was seen. */
function seen({ curve, rms }: Evidence, height: number): MigrationLine {
  return {
    y: curve.y / height,
    tilt: curve.tilt / height,
    bow: curve.bow / height,
    source: "found",
    sd: Math.max(0.001, Math.min(0.01, rms / height / 2)),
  };
}
