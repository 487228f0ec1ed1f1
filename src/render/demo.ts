import type { Picture } from "../raster/picture.ts";
import { type Chance, chanceOf } from "./chance.ts";
import { tubeContents } from "./column/column.ts";
import { LEVEL_SETTINGS, type LevelSettings } from "./levels.ts";
import { drawSheet } from "./plan/layer.ts";
import { drawPhoto } from "./plan/photo.ts";
import { drawPlate, type LaneLoad } from "./plan/plate.ts";
import type { Colour, Response, RunRecipe, Stain, Substance } from "./recipe.ts";
import { renderRun } from "./render.ts";
import { runYaml } from "./runfile.ts";
import type { RunTruth } from "./truth.ts";

const TUBES = 24;
const VOLUME_ML = 10;

/** Good phone photos: a steady hand, a line for the origin, nothing in the way. */
const GOOD: LevelSettings = {
  ...LEVEL_SETTINGS.normal,
  originMark: { line: 1 },
  frontMark: { line: 1, band: 1 },
  laneLabels: 1,
  notes: 0.6,
  streaks: 0,
  scratches: 0.8,
  smudges: 0.2,
  dust: 5,
  chips: 0.2,
  fingers: 0,
  ruler: 0,
  pen: 0,
  tilt: [1.5, 6],
  roll: 2.5,
  fill: [0.78, 0.9],
  lampFall: [0.06, 0.2],
  vignette: [0.02, 0.1],
  glare: 0,
  blur: [0.6, 0.9],
  green: [1, 1.5],
  white: [0.6, 0.85],
  jpeg: [84, 84],
  exif: 0,
};

const UNSTAINED = { strength: 0, colour: [0.3, 0.3, 0.3] as Colour };

function response(quench: number, kmno4: number, colour: Colour = [0.56, 0.38, 0.1]): Response {
  const stain: Record<Stain, { strength: number; colour: Colour }> = {
    kmno4: { strength: kmno4, colour },
    pma: UNSTAINED,
    anisaldehyde: UNSTAINED,
    iodine: UNSTAINED,
  };
  return { quench, glow: null, emission: null, stain, dye: null };
}

/**
 * Invented figures for a chalcone preparation, fastest first: a greasy trace that only the stain shows, the aldehyde
 * left over, the chalcone, the ketone left over (which permanganate hardly touches), and a slow by-product.
 */
const SUBSTANCES: readonly Substance[] = [
  { id: "c1", rf: 0.74, load: 0.09, peak: { mu: 2.6, sigma: 0.6, tau: 0.6 }, response: response(0, 1.1) },
  { id: "c2", rf: 0.57, load: 0.3, peak: { mu: 5.4, sigma: 0.7, tau: 0.6 }, response: response(1, 1) },
  { id: "c3", rf: 0.44, load: 1, peak: { mu: 9.4, sigma: 1.1, tau: 0.9 }, response: response(1.2, 0.9) },
  { id: "c4", rf: 0.33, load: 0.22, peak: { mu: 14.6, sigma: 0.9, tau: 0.8 }, response: response(0.9, 0.12) },
  { id: "c5", rf: 0.17, load: 0.16, peak: { mu: 19, sigma: 1, tau: 0.8 }, response: response(0.7, 0.9) },
];

/** Strength of the spots at the top of the main product's peak. */
const DEPTH = 1.9;

function demoLoads(chance: Chance, contents: readonly (readonly number[])[]): LaneLoad[][] {
  const crude: LaneLoad = {
    label: "crude",
    fraction: null,
    amounts: SUBSTANCES.map(({ load }) => load * 1.3),
    residue: 0.25,
  };
  const tubes = contents.map((amounts, t): LaneLoad => {
    const dose = DEPTH * Math.exp(chance.normal(0, 0.1));
    return { label: String(t + 1), fraction: t + 1, amounts: amounts.map((a) => a * dose), residue: 0 };
  });
  return [[crude, ...tubes.slice(0, 8)], tubes.slice(8, 16), tubes.slice(16)];
}

/** The plan of the demo run: 24 tubes on three plates, each photographed at 254 nm and after permanganate. */
export function planDemo(seed: number): RunRecipe {
  const chance = chanceOf(seed).fork("demo");
  const contents = tubeContents(SUBSTANCES, TUBES);
  const sheet = drawSheet(chance.fork("sheet"));
  const plates = demoLoads(chance.fork("loads"), contents).map((lanes, i) =>
    drawPlate(chance.fork(`plate-${i}`), `p${i + 1}`, lanes, SUBSTANCES, sheet, GOOD),
  );
  const photos = plates.flatMap((plate, index) => {
    const photo = (suffix: string, light: "uv254" | "white", stain: Stain | null, settings: LevelSettings) => {
      const file = `plate-${index + 1}-${suffix}.jpg`;
      return drawPhoto(chance.fork(file), file, { light, stain }, [{ index, plate }], settings, 1600);
    };
    return [
      photo("254", "uv254", null, { ...GOOD, bench: { violet: 1, black: 1 } }),
      photo("kmno4", "white", "kmno4", { ...GOOD, bench: { wood: 1, grey: 1, tissue: 1 } }),
    ];
  });
  return {
    name: "chalcone-demo",
    level: "normal",
    seed,
    tubes: TUBES,
    volumeMl: VOLUME_ML,
    substances: SUBSTANCES,
    contents,
    plates,
    photos,
  };
}

export interface DemoRun {
  /** Upright photos with their names and JPEG qualities. */
  readonly files: readonly { readonly name: string; readonly picture: Picture; readonly quality: number }[];
  readonly runYaml: string;
  readonly truth: RunTruth;
}

/** Draws the demo run. Pure: the same seed gives the same bytes. */
export function demoRun(seed: number): DemoRun {
  const recipe = planDemo(seed);
  const files: { name: string; picture: Picture; quality: number }[] = [];
  const photos = renderRun(recipe);
  let step = photos.next();
  while (!step.done) {
    files.push({ name: step.value.file, picture: step.value.picture, quality: step.value.quality });
    step = photos.next();
  }
  return { files, runYaml: runYaml(recipe), truth: step.value };
}
