import type { Light } from "../../model/photo.ts";
import type { Plane } from "../../raster/picture.ts";
import type { PlateRecipe, Stain, Substance } from "../recipe.ts";
import { contributionOf, type Look, lookOf, type Sums, shade } from "./look.ts";
import { peakConcentration, reachOf, relativeConcentration } from "./shape.ts";
import type { Surface } from "./texture.ts";

/** Linear RGB of a plate in its own pixels: row-major, interleaved. */
export interface PlateMap {
  readonly scale: number;
  readonly width: number;
  readonly height: number;
  readonly data: Float32Array;
}

/** Sums of the spots' contributions over the plate; planes that no substance needs are left out. */
export interface SpotSums {
  readonly absorb: Float32Array;
  readonly tint: readonly Float32Array[] | null;
  readonly emit: readonly Float32Array[] | null;
}

/** Adds up what all spots of a plate contribute under a look. */
export function sumSpots(plate: PlateRecipe, substances: readonly Substance[], look: Look, surface: Surface): SpotSums {
  const { width, height, scale } = surface;
  const plane = () => new Float32Array(width * height);
  const absorb = plane();
  const tint = look.light === "white" ? [plane(), plane(), plane()] : null;
  const glows = look.light === "uv365" || substances.some((s) => s.response.glow);
  const emit = look.light !== "white" && glows ? [plane(), plane(), plane()] : null;
  const byId = new Map(substances.map((s) => [s.id, s.response]));
  for (const spot of plate.lanes.flatMap((lane) => lane.spots)) {
    const response = spot.substance === null ? null : (byId.get(spot.substance) ?? null);
    const top = peakConcentration(spot);
    const unit = contributionOf(look, response, 1);
    const glow = emit !== null && (look.light === "uv365" || response?.glow);
    if (unit.absorb === 0 && !glow) continue;
    const box = reachOf(spot);
    const x1 = Math.min(width - 1, Math.ceil(box.x1 * scale));
    const y1 = Math.min(height - 1, Math.ceil(box.y1 * scale));
    for (let y = Math.max(0, Math.floor(box.y0 * scale)); y <= y1; y++)
      for (let x = Math.max(0, Math.floor(box.x0 * scale)); x <= x1; x++) {
        const at = y * width + x;
        const c = top * relativeConcentration(spot, (x + 0.5) / scale, (y + 0.5) / scale) * surface.patches.data[at];
        if (c < 1e-5) continue;
        absorb[at] += unit.absorb * c;
        if (tint) for (let ch = 0; ch < 3; ch++) tint[ch][at] += unit.tint[ch] * c;
        if (glow) {
          const sent = contributionOf(look, response, c).emit;
          for (let ch = 0; ch < 3; ch++) emit[ch][at] += sent[ch];
        }
      }
  }
  return { absorb, tint, emit };
}

/** The sums at one pixel of the plate, written into `into`. */
export function readSums(sums: SpotSums, at: number, into: Sums): void {
  into.absorb = sums.absorb[at];
  into.tint0 = sums.tint ? sums.tint[0][at] : 0;
  into.tint1 = sums.tint ? sums.tint[1][at] : 0;
  into.tint2 = sums.tint ? sums.tint[2][at] : 0;
  into.emit0 = sums.emit ? sums.emit[0][at] : 0;
  into.emit1 = sums.emit ? sums.emit[1][at] : 0;
  into.emit2 = sums.emit ? sums.emit[2][at] : 0;
}

export const emptySums = (): Sums => ({ absorb: 0, tint0: 0, tint1: 0, tint2: 0, emit0: 0, emit1: 0, emit2: 0 });

/** Paints a plate as it looks under one light, in linear RGB. */
export function paintPlate(
  plate: PlateRecipe,
  substances: readonly Substance[],
  surface: Surface,
  light: Light,
  stain: Stain | null,
): { map: PlateMap; sums: SpotSums; look: Look } {
  const look = lookOf(plate.layer, light, stain);
  const sums = sumSpots(plate, substances, look, surface);
  const { width, height, scale } = surface;
  const data = new Float32Array(width * height * 3);
  const s = emptySums();
  const ground: Plane = surface.ground;
  for (let i = 0; i < width * height; i++) {
    readSums(sums, i, s);
    const mark = surface.marks.data[i];
    const grit = surface.dust.data[i];
    let cover = mark === 0 ? 1 : Math.exp(-Math.LN10 * mark);
    if (grit !== 0) {
      if (light === "uv365") {
        // lint glows under long-wave light
        s.emit0 += Math.max(0, grit) * 0.12;
        s.emit1 += Math.max(0, grit) * 0.2;
        s.emit2 += Math.max(0, grit) * 0.45;
      } else cover *= 1 + (grit > 0 ? 0.35 : 0.8) * grit;
    }
    shade(look, ground.data[i], stain ? surface.blotch.data[i] : 0, cover, s, data, 3 * i);
  }
  return { map: { scale, width, height, data }, sums, look };
}
