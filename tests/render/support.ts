import { chanceOf } from "../../src/render/chance.ts";
import { type RenderedPhoto, type RunTruth, renderRun } from "../../src/render/index.ts";
import { LEVEL_SETTINGS, type Level, type LevelSettings } from "../../src/render/levels.ts";
import { drawSheet } from "../../src/render/plan/layer.ts";
import { drawPhoto } from "../../src/render/plan/photo.ts";
import { drawPlate, type LaneLoad } from "../../src/render/plan/plate.ts";
import type { PhotoRecipe, Response, RunRecipe, Substance } from "../../src/render/recipe.ts";

export function drawAll(recipe: RunRecipe): { photos: RenderedPhoto[]; truth: RunTruth } {
  const photos: RenderedPhoto[] = [];
  const steps = renderRun(recipe);
  let step = steps.next();
  while (!step.done) {
    photos.push(step.value);
    step = steps.next();
  }
  return { photos, truth: step.value };
}

const NO_STAIN = { strength: 0, colour: [0.5, 0.5, 0.5] } as const;
const ABSORBS: Response = {
  quench: 1,
  glow: null,
  emission: null,
  stain: { kmno4: NO_STAIN, pma: NO_STAIN, anisaldehyde: NO_STAIN, iodine: NO_STAIN },
  dye: null,
};

/** A bare, even, noiseless photo of one plate at 254 nm, on black; `edit` changes how it is taken. */
export function plainRun(
  amounts: readonly (readonly number[])[],
  level: Level = "easy",
  edit: (photo: PhotoRecipe) => PhotoRecipe = (photo) => photo,
  seed = 5,
): RunRecipe {
  const settings: LevelSettings = {
    ...LEVEL_SETTINGS[level],
    laneLabels: 0,
    notes: 0,
    scratches: 0,
    smudges: 0,
    dust: 0,
    chips: 0,
    grain: [0, 0],
    blotch: [0, 0],
    patchy: [0, 0],
    streaks: 0,
    fingers: 0,
    ruler: 0,
    pen: 0,
    glare: 0,
    bench: { black: 1 },
    several: 0,
    turned: 0,
  };
  const chance = chanceOf(seed);
  const substances: Substance[] = [0.75, 0.45, 0.2].map((rf, i) => ({
    id: `c${i + 1}`,
    rf,
    peak: null,
    load: 1,
    response: ABSORBS,
  }));
  const loads = amounts.map(
    (lane, i): LaneLoad => ({ label: String(i + 1), fraction: i + 1, amounts: lane, residue: 0 }),
  );
  const plate = drawPlate(chance.fork("plate"), "p1", loads, substances, drawSheet(chance.fork("sheet")), settings);
  const look = { light: "uv254", stain: null } as const;
  const photo = drawPhoto(chance.fork("photo"), "a.jpg", look, [{ index: 0, plate }], settings, 900);
  const camera = { ...photo.camera, fullWell: 1e12, readNoise: 0, tone: 0, sharpen: 0, exposure: 0.8 };
  const lamp = { ...photo.lamp, fall: 0, vignette: 0, glare: [] };
  return {
    name: "plain",
    level,
    seed,
    tubes: amounts.length,
    volumeMl: 10,
    substances,
    contents: amounts,
    plates: [plate],
    photos: [edit({ ...photo, camera, lamp, orientation: 1 })],
  };
}

/** Linear green, red or blue (0..1) at a pixel. */
export function linearAt({ picture }: RenderedPhoto, x: number, y: number, channel: number): number {
  const code = picture.data[3 * (Math.floor(y) * picture.width + Math.floor(x)) + channel] / 255;
  return code <= 0.04045 ? code / 12.92 : ((code + 0.055) / 1.055) ** 2.4;
}
