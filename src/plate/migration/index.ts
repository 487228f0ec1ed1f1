import type { MigrationLine } from "../../model/index.ts";
import type { MarkRow, SignalMap } from "../view.ts";
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
}

export interface Migration {
  readonly origin: MigrationLine;
  readonly front: MigrationLine;
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
  const origins = heightsOf(originLooks(sketches, marks, profiles), height);
  const fronts = heightsOf(frontLooks(sketches), height);
  const originWorth = originSigns(origins, sketches, marks, profiles).map((s) => weighed(s, ORIGIN_WEIGHTS));
  const frontWorth = frontSigns(fronts, profiles, maps[0]).map((s) => weighed(s, FRONT_WEIGHTS));
  return {
    origin: lineFrom(origins, originWorth, UNSEEN_ORIGINS, options.origin, height),
    front: lineFrom(fronts, frontWorth, UNSEEN_FRONTS, options.front, height),
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

function lineFrom(
  heights: readonly Height[],
  worth: readonly number[],
  unseen: readonly Unseen[],
  given: number | null,
  height: number,
): MigrationLine {
  const seen = heights.map((one, k) => ({ y: one.curve.y / height, worth: worth[k] }));
  const { index, y, probability, sd } = likeliest(seen, unseen);
  const found = index >= 0 && probability > FOUND && heights[index].seen.some(({ kind }) => !INFERRED.includes(kind));
  const { curve, rms } = index >= 0 ? heights[index] : { curve: { tilt: 0, bow: 0 }, rms: 0 };
  const [tilt, bow] = [curve.tilt / height, curve.bow / height];
  if (given !== null) {
    const bent = found && Math.abs(y - given) < BESIDE_TOLD;
    return { y: given, tilt: bent ? tilt : 0, bow: bent ? bow : 0, source: "given", sd: 0.003 };
  }
  if (!found) return { y, tilt, bow, source: "assumed", sd };
  return { y, tilt, bow, source: "found", sd: Math.max(0.001, Math.min(0.01, rms / height / 2)) };
}
