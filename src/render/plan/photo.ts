import type { Light } from "../../model/photo.ts";
import type { Chance } from "../chance.ts";
import type { LevelSettings } from "../levels.ts";
import type { PhotoRecipe, Placement, PlateRecipe, Stain } from "../recipe.ts";
import { applyMatrix, multiply, placementMatrix, poseMatrix } from "../scene/homography.ts";
import { drawCamera, drawLamp } from "./camera.ts";
import { drawThings } from "./things.ts";

const RADIANS = Math.PI / 180;

/** Lays the plates side by side, left to right as they will stand in the upright picture. */
function place(chance: Chance, plates: readonly { index: number; plate: PlateRecipe }[]): Placement[] {
  const gap = chance.uniform(3, 9);
  const total = plates.reduce((sum, { plate }) => sum + plate.width, gap * (plates.length - 1));
  let left = -total / 2;
  return plates.map(({ index, plate }) => {
    const x = left + plate.width / 2;
    left += plate.width + gap;
    const loose = plates.length > 1 ? 1 : 0;
    return { plate: index, x, y: loose * chance.uniform(-3, 3), turn: loose * chance.normal(0, 1.2) * RADIANS };
  });
}

function cornersOf(placement: Placement, plate: PlateRecipe): [number, number][] {
  const m = placementMatrix(placement.x, placement.y, placement.turn, plate.width, plate.height);
  const { width: w, height: h } = plate;
  return [
    [0, 0],
    [w, 0],
    [w, h],
    [0, h],
  ].map(([x, y]) => applyMatrix(m, x, y));
}

function spanOf(points: readonly (readonly [number, number])[]) {
  const xs = points.map((p) => p[0]);
  const ys = points.map((p) => p[1]);
  const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  return { x0, y0, w: x1 - x0, h: y1 - y0 };
}

/** No plate is shown narrower than this many pixels. */
const LEAST_WIDTH = 400;

/** Draws how one photo is taken: pose, frame, bench, lamp, camera. */
export function drawPhoto(
  chance: Chance,
  file: string,
  look: { light: Light; stain: Stain | null },
  shown: readonly { index: number; plate: PlateRecipe }[],
  settings: LevelSettings,
  longSide?: number,
): PhotoRecipe {
  const plates = place(chance, shown);
  const bench = chance.weighted(settings.bench);
  const scan = bench === "frame";
  const corners = plates.flatMap((p, i) => cornersOf(p, shown[i].plate));
  const flat = spanOf(corners);
  const quarter = chance.happens(settings.turned) ? chance.integer(1, 3) : 0;
  const narrow = Math.min(...shown.map(({ plate }) => Math.min(plate.width, plate.height)));
  const fill = scan ? 1.002 : chance.uniform(...settings.fill);
  const least = (LEAST_WIDTH * Math.max(flat.w, flat.h)) / (narrow * fill * (scan ? 1 : 0.62));
  const long = Math.round((longSide ?? Math.max(least, chance.uniform(...settings.longSide))) / 2) * 2;
  const tall = (quarter % 2 === 0) === flat.h * 1.05 > flat.w;
  const short = scan
    ? Math.round(long * Math.min(1, Math.min(flat.w, flat.h) / Math.max(flat.w, flat.h)))
    : long * 0.75;
  const [width, height] = tall ? [Math.round(short), long] : [long, Math.round(short)];
  const tilt = scan ? 0 : chance.uniform(...settings.tilt) * RADIANS;
  const towards = chance.uniform(0, 2 * Math.PI);
  const roll = scan ? 0 : chance.normal(0, settings.roll * 0.6) * RADIANS + (quarter * Math.PI) / 2;
  const focal = long * (scan ? 30 : chance.uniform(1, 1.5));
  let distance = (focal * flat.h) / height;
  const matrixAt = () =>
    poseMatrix({ pitch: tilt * Math.sin(towards), yaw: tilt * Math.cos(towards), roll, focal, distance, cx: 0, cy: 0 });
  for (let i = 0; i < 6; i++) {
    const m = matrixAt();
    const seen = spanOf(corners.map(([x, y]) => applyMatrix(m, x, y)));
    distance *= Math.max(seen.w / width, seen.h / height) / fill;
  }
  const m = matrixAt();
  const seen = spanOf(corners.map(([x, y]) => applyMatrix(m, x, y)));
  const shift = (free: number) => free / 2 + (scan ? 0 : (free / 2) * chance.uniform(-0.7, 0.7));
  const dx = shift(width - seen.w) - seen.x0;
  const dy = shift(height - seen.h) - seen.y0;
  return {
    file,
    ...look,
    width,
    height,
    homography: multiply([1, 0, dx, 0, 1, dy, 0, 0, 1], m),
    distortion: scan ? 0 : chance.normal(0, settings.distortion * 0.6),
    plates,
    bench,
    benchSeed: chance.seed(),
    things: scan ? [] : drawThings(chance.fork("things"), flat, settings),
    lamp: drawLamp(chance.fork("lamp"), settings),
    camera: drawCamera(chance.fork("camera"), look.light, settings),
    jpegQuality: Math.round(chance.uniform(...settings.jpeg)),
    orientation: chance.happens(settings.exif) ? chance.pick([3, 6, 8] as const) : 1,
  };
}
