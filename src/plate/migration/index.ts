import type { LinePlace, LinePlaces, LineSource, MigrationLine } from "../../model/index.ts";
import type { CrossRows, MarkRow, SignalMap } from "../view.ts";
import { CUSTOM_FRONT, CUSTOM_ORIGIN, OFF_PLATE } from "./custom.ts";
import type { Kind } from "./evidence.ts";
import { frontLooks } from "./front.ts";
import { frontSigns } from "./frontSigns.ts";
import { type Height, heightsOf } from "./heights.ts";
import { likeliest, type Unseen } from "./likeliest.ts";
import { FRONT_UNSEEN, FRONT_WEIGHTS, ORIGIN_UNSEEN, ORIGIN_WEIGHTS } from "./lineWeights.ts";
import { originLooks } from "./origin.ts";
import { originSigns } from "./originSigns.ts";
import { sketchOf } from "./sketch.ts";
import { spotProfile } from "./spotProfile.ts";

export interface MigrationOptions {
  /** Heights told by the user, as fractions of the plate's height from the top; null: to be found. */
  readonly origin: number | null;
  readonly front: number | null;
  /** Rows of crosses of each photo; left out: none. */
  readonly crosses?: readonly CrossRows[];
  /** Heights that the other plates of the run speak for; left out: nothing is known of others. */
  readonly byOthers?: { readonly origin: number; readonly front: number };
}

export interface Migration {
  readonly origin: MigrationLine;
  readonly front: MigrationLine;
  /** Where they may be as far as this plate shows. */
  readonly places: LinePlaces;
  /** Probability that both lie nearly right, as far as this plate shows. */
  readonly sure: number;
}

/**
 * Finds origin and solvent front of a plate, all its photos together: many ways of looking say where each may be, and a
 * conditional logit says which it is.
 * @param marks rows of pencil marks, one list per photo
 */
export function findMigration(
  maps: readonly SignalMap[],
  marks: readonly (readonly MarkRow[])[],
  options: MigrationOptions,
): Migration {
  const { height } = maps[0];
  const sketches = maps.map(sketchOf);
  const profiles = maps.map(spotProfile);
  const origins = heightsOf(originLooks(sketches, marks, profiles, options.crosses), height);
  const fronts = heightsOf(frontLooks(sketches, options.crosses), height);
  const originWorth = originSigns(origins, sketches, marks, profiles).map((s) => weighed(s, ORIGIN_WEIGHTS));
  const frontWorth = frontSigns(fronts, profiles, maps[0]).map((s) => weighed(s, FRONT_WEIGHTS));
  const origin = lineFrom(origins, originWorth, UNSEEN_ORIGINS, height, options.origin, options.byOthers?.origin);
  const front = lineFrom(fronts, frontWorth, UNSEEN_FRONTS, height, options.front, options.byOthers?.front);
  return {
    origin: origin.line,
    front: front.line,
    places: { origin: origin.places, front: front.places },
    sure: origin.probability * front.probability,
  };
}

const UNSEEN_ORIGINS: readonly Unseen[] = [{ ...CUSTOM_ORIGIN, worth: ORIGIN_UNSEEN.custom }];
const UNSEEN_FRONTS: readonly Unseen[] = [
  { ...CUSTOM_FRONT, worth: FRONT_UNSEEN.custom },
  { ...OFF_PLATE, worth: FRONT_UNSEEN.off },
];

function weighed<Sign extends string>(signs: Readonly<Record<Sign, number>>, weights: Readonly<Record<Sign, number>>) {
  let sum = 0;
  for (const sign in weights) sum += weights[sign] * signs[sign];
  return sum;
}

/** A line that is less probable is taken for granted only. */
const FOUND = 0.75;
/** What says where a line may be, though it does not show. */
const INFERRED: readonly Kind[] = ["foot", "figures"];
/** A line seen as near to a told height shows its bend. */
const BESIDE_TOLD = 0.03;
/** A line seen as near to where other plates speak for is the one they speak for. */
const BESIDE_OTHERS = 0.012;
/** How exactly other plates say where a line is that does not show. */
const OTHERS_SD = 0.01;

function lineFrom(
  heights: readonly Height[],
  worth: readonly number[],
  unseen: readonly Unseen[],
  height: number,
  given: number | null,
  byOthers: number | undefined,
): { line: MigrationLine; places: readonly LinePlace[]; probability: number } {
  const seen = heights.map((one, k) => ({ y: one.curve.y / height, worth: worth[k] }));
  const { index, y, probability, sd, places } = likeliest(seen, unseen);
  const lineOf = (k: number, at: number, source: LineSource, off: number): MigrationLine => {
    const { curve, rms } = k >= 0 ? heights[k] : { curve: { tilt: 0, bow: 0 }, rms: 0 };
    const exact = Math.max(0.001, Math.min(0.01, rms / height / 2));
    return { y: at, tilt: curve.tilt / height, bow: curve.bow / height, source, sd: source === "found" ? exact : off };
  };
  const shows = (k: number) => k >= 0 && heights[k].seen.some(({ kind }) => !INFERRED.includes(kind));
  const found = probability > FOUND && shows(index);
  if (given !== null) {
    const bent = found && Math.abs(y - given) < BESIDE_TOLD ? index : -1;
    return { line: lineOf(bent, given, "given", 0.003), places, probability: 1 };
  }
  if (byOthers !== undefined) {
    const near = nearest(seen, byOthers);
    const line =
      near < 0
        ? lineOf(-1, byOthers, "assumed", OTHERS_SD)
        : lineOf(near, seen[near].y, shows(near) ? "found" : "assumed", OTHERS_SD);
    return { line, places, probability };
  }
  return { line: lineOf(index, y, found ? "found" : "assumed", sd), places, probability };
}

/** The most likely of the heights seen so near to `y` that they are taken for it; -1: none. */
function nearest(seen: readonly { readonly y: number; readonly worth: number }[], y: number): number {
  let best = -1;
  for (const [k, one] of seen.entries())
    if (Math.abs(one.y - y) < BESIDE_OTHERS && (best < 0 || one.worth > seen[best].worth)) best = k;
  return best;
}
