import { makePlane, type Plane } from "../../raster/picture.ts";
import { crossLineAt, type PlateRecipe } from "../recipe.ts";
import { addSmoothNoise, boxBlurTwice, normalStream } from "./noise.ts";
import { drawStrokes } from "./strokes.ts";

/** A plate's surface in its own pixels, the same under every light. */
export interface Surface {
  /** Pixels per mm. */
  readonly scale: number;
  readonly width: number;
  readonly height: number;
  /** Relative evenness, about 1. */
  readonly ground: Plane;
  /** Relative change of a stain's depth, about 0. */
  readonly blotch: Plane;
  /** How evenly spots lie in the layer, about 1. */
  readonly patches: Plane;
  /** Optical density of pencil and scratches. */
  readonly marks: Plane;
  /** Dust: -1 dark .. 1 bright, mostly 0. */
  readonly dust: Plane;
}

/** White noise smoothed to the size of the layer's grains, unit variance. */
function grainPlane(width: number, height: number, radius: number, seed: number): Float32Array {
  const normal = normalStream(seed);
  const data = new Float32Array(width * height);
  for (let i = 0; i < data.length; i++) data[i] = normal();
  boxBlurTwice(data, width, height, radius);
  let sum = 0;
  for (let i = 0; i < data.length; i += 7) sum += data[i] * data[i];
  const sd = Math.sqrt(sum / Math.ceil(data.length / 7));
  for (let i = 0; i < data.length; i++) data[i] /= sd;
  return data;
}

/** Wet layer below the front, with a darker or lighter line at its upper end. */
function wetting(ground: Plane, plate: PlateRecipe, scale: number): void {
  const { wet, wetLine, wetWidth } = plate.layer;
  if (wet === 0 && wetLine === 0) return;
  for (let x = 0; x < ground.width; x++) {
    const front = crossLineAt(plate.front, x / ground.width);
    for (let y = 0; y < ground.height; y++) {
      const below = (y + 0.5) / scale - front;
      const t = Math.min(1, Math.max(0, 0.5 + below / wetWidth));
      const line = below > -2 * wetWidth && below < 4 * wetWidth ? Math.exp(-((below / wetWidth) ** 2)) : 0;
      ground.data[y * ground.width + x] *= 1 + wet * t + wetLine * line;
    }
  }
}

function smudge(ground: Plane, plate: PlateRecipe, scale: number): void {
  for (const { x, y, rx, ry, change } of plate.layer.smudges) {
    const x0 = Math.max(0, Math.floor((x - 2.5 * rx) * scale));
    const x1 = Math.min(ground.width - 1, Math.ceil((x + 2.5 * rx) * scale));
    const y0 = Math.max(0, Math.floor((y - 2.5 * ry) * scale));
    const y1 = Math.min(ground.height - 1, Math.ceil((y + 2.5 * ry) * scale));
    for (let py = y0; py <= y1; py++)
      for (let px = x0; px <= x1; px++) {
        const q = ((px / scale - x) / rx) ** 2 + ((py / scale - y) / ry) ** 2;
        ground.data[py * ground.width + px] *= 1 + change * Math.exp(-q * 1.5);
      }
  }
}

function settleDust(dust: Plane, plate: PlateRecipe, scale: number): void {
  for (const { x, y, r, bright } of plate.layer.dust) {
    const reach = r + 0.7 / scale;
    for (
      let py = Math.max(0, Math.floor((y - reach) * scale));
      py <= Math.min(dust.height - 1, (y + reach) * scale);
      py++
    )
      for (
        let px = Math.max(0, Math.floor((x - reach) * scale));
        px <= Math.min(dust.width - 1, (x + reach) * scale);
        px++
      ) {
        const d = Math.hypot((px + 0.5) / scale - x, (py + 0.5) / scale - y);
        const cover = Math.min(1, Math.max(0, (r - d) * scale + 0.5));
        if (cover > 0) dust.data[py * dust.width + px] = bright * cover;
      }
  }
}

/** Makes the surface of a plate at a scale in pixels per mm. */
export function makeSurface(plate: PlateRecipe, scale: number): Surface {
  const width = Math.ceil(plate.width * scale);
  const height = Math.ceil(plate.height * scale);
  const { layer } = plate;
  const normal = normalStream(layer.seed);
  const grain = grainPlane(width, height, Math.max(1, Math.round(layer.grainSize * scale * 0.5)), layer.seed + 1);
  const blotch = makePlane(width, height);
  for (const [cell, gain] of [
    [18, 0.7],
    [7, 0.55],
    [2.6, 0.4],
  ]) // mm
    addSmoothNoise(blotch.data, width, height, cell * scale, gain, normal);
  const ground = makePlane(width, height);
  for (const [cell, gain] of [
    [30, 0.75],
    [11, 0.5],
    [3.5, 0.3],
  ])
    addSmoothNoise(ground.data, width, height, cell * scale, gain, normal);
  for (let i = 0; i < grain.length; i++) {
    ground.data[i] = Math.max(0.2, 1 + layer.blotch * ground.data[i] + layer.grain * grain[i]);
    blotch.data[i] = Math.max(-0.8, layer.stainBlotch * blotch.data[i]);
  }
  const patches = makePlane(width, height);
  addSmoothNoise(patches.data, width, height, 1.2 * scale, layer.patchy, normal);
  for (let i = 0; i < grain.length; i++) patches.data[i] = Math.max(0.4, 1 + patches.data[i]);
  wetting(ground, plate, scale);
  smudge(ground, plate, scale);
  const marks = makePlane(width, height);
  drawStrokes(marks, layer.scratches, scale, 0.2, normal);
  drawStrokes(marks, plate.pencil, scale, 0.45, normal);
  const dust = makePlane(width, height);
  settleDust(dust, plate, scale);
  return { scale, width, height, ground, blotch, patches, marks, dust };
}
