import type { Light } from "../../model/photo.ts";
import { type Chance, chanceOf } from "../chance.ts";
import { drawSubstances, tubeContents } from "../column/column.ts";
import { LEVEL_SETTINGS, type Level, type LevelSettings } from "../levels.ts";
import { type PhotoRecipe, type PlateRecipe, type RunRecipe, STAINS, type Stain, type Substance } from "../recipe.ts";
import { drawSheet } from "./layer.ts";
import { drawPhoto } from "./photo.ts";
import { drawPlate, type LaneLoad } from "./plate.ts";

type Look = { readonly light: Light; readonly stain: Stain | null };

export interface RunOptions {
  /** Long side of every photo in pixels; by the level if left out. */
  readonly longSide?: number;
  /** Exact number of plates, one photo each (for speed measurements). */
  readonly plates?: number;
}

function drawLook(chance: Chance): Look {
  const kind = chance.weighted({ uv254: 62, uv365: 10, stain: 24, dye: 4 });
  if (kind === "stain") return { light: "white", stain: chance.pick(STAINS) };
  if (kind === "dye") return { light: "white", stain: null };
  return { light: kind, stain: null };
}

function secondLook(chance: Chance, first: Look): Look {
  if (first.light === "uv254")
    return chance.happens(0.7) ? { light: "white", stain: chance.pick(STAINS) } : { light: "uv365", stain: null };
  return { light: "uv254", stain: null };
}

/** Which tube goes on which lane of which plate; the crude stands in lane 1 of the first plate or of all. */
function drawLoads(
  chance: Chance,
  tubes: number,
  contents: readonly (readonly number[])[],
  substances: readonly Substance[],
  settings: LevelSettings,
  plates?: number,
): LaneLoad[][] {
  const step = tubes >= 24 ? Number(chance.weighted({ "1": 6, "2": 2.5, "3": 1.5 })) : 1;
  const spotted = Array.from({ length: tubes }, (_, t) => t + 1).filter((t) => (t - 1) % step === 0);
  const crude = chance.weighted({ first: 5, all: 3, none: 2 });
  const most = Math.max(settings.lanes[0] + 1, Math.min(chance.integer(...settings.lanes), spotted.length + 1));
  const depth = chance.logUniform(0.7, 4);
  const total = substances.reduce((sum, s) => sum + s.load, 0);
  const strength = chance.logUniform(0.7, 2.2) / total;
  const crudeLane: LaneLoad = {
    label: "crude",
    fraction: null,
    amounts: substances.map((s) => s.load * strength * 1.3),
    residue: chance.happens(0.6) ? chance.logUniform(0.05, 0.8) : 0,
  };
  const lanesOf = (tubeNumbers: readonly number[], withCrude: boolean): LaneLoad[] => {
    const lanes = tubeNumbers.map((tube): LaneLoad => {
      const dose = depth * Math.exp(chance.normal(0, 0.15));
      return { label: String(tube), fraction: tube, amounts: contents[tube - 1].map((c) => c * dose), residue: 0 };
    });
    return withCrude ? [crudeLane, ...lanes] : lanes;
  };
  const out: LaneLoad[][] = [];
  for (let at = 0; at < spotted.length; ) {
    const withCrude = crude === "all" || (crude === "first" && out.length === 0);
    const room = most - (withCrude ? 1 : 0);
    const left = spotted.length - at;
    // no plate of a single lane at the end
    const take = left - room === 1 || left - room === 2 ? Math.ceil(left / 2) : Math.min(room, left);
    out.push(lanesOf(spotted.slice(at, at + take), withCrude));
    at += take;
  }
  return plates === undefined ? out : out.slice(0, plates);
}

/** Plans one run: the column, its plates, and how each is photographed. */
export function planRun(level: Level, seed: number, options: RunOptions = {}): RunRecipe {
  const settings = LEVEL_SETTINGS[level];
  const chance = chanceOf(seed).fork(level);
  const column = chance.fork("column");
  const look = drawLook(chance.fork("look"));
  const tubes = options.plates ? options.plates * 8 : column.integer(...settings.tubes);
  const count = column.integer(...settings.components);
  const substances = drawSubstances(column, count, settings.gap, tubes, look);
  const contents = tubeContents(substances, tubes);
  const lanes = options.plates ? { ...settings, lanes: [9, 9] as const } : settings;
  const loads = drawLoads(chance.fork("loads"), tubes, contents, substances, lanes, options.plates);
  const sheet = drawSheet(chance.fork("sheet"));
  const plates: PlateRecipe[] = loads.map((lanes, i) =>
    drawPlate(chance.fork(`plate-${i}`), `p${i + 1}`, lanes, substances, sheet, settings),
  );
  const photos = planPhotos(chance.fork("photos"), plates, look, settings, options);
  const name = `${level}-${seed}`;
  return { name, level, seed, tubes, volumeMl: column.pick([5, 8, 10, 15, 20]), substances, contents, plates, photos };
}

function planPhotos(
  chance: Chance,
  plates: readonly PlateRecipe[],
  look: Look,
  settings: LevelSettings,
  options: RunOptions,
): PhotoRecipe[] {
  const photos: PhotoRecipe[] = [];
  const second = secondLook(chance, look);
  for (let i = 0; i < plates.length; ) {
    const together = !options.plates && chance.happens(settings.several) ? chance.integer(2, 3) : 1;
    const group = plates.slice(i, i + together).map((plate, k) => ({ index: i + k, plate }));
    // plates of a hundred millimetres and more do not share a picture
    while (group.length > 1 && group.reduce((sum, g) => sum + g.plate.width, 0) > 170) group.pop();
    const looks = !options.plates && chance.happens(settings.twoLights) ? [look, second] : [look];
    for (const each of looks) {
      const file = `plate-${String(i + 1).padStart(2, "0")}${each === look ? "a" : "b"}.jpg`;
      photos.push(drawPhoto(chance.fork(file), file, each, group, settings, options.longSide));
    }
    i += group.length;
  }
  return photos;
}
