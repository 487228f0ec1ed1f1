import type { Light } from "../../model/photo.ts";
import type { PlateMap } from "../layer/paint.ts";
import type { PhotoRecipe, PlateRecipe } from "../recipe.ts";
import { applyMatrix, invert, multiply, placementMatrix } from "./homography.ts";
import { GLARE_TINT, glareAt, lampAt } from "./lamp.ts";
import { BENCH } from "./materials.ts";
import { noiseTile, tileAt } from "./noiseTile.ts";
import { thingPainter } from "./things.ts";

/** Linear RGB light that reaches the lens: row-major, interleaved, 1 = a fully lit white layer. */
export interface Scene {
  readonly width: number;
  readonly height: number;
  readonly data: Float32Array;
}

interface Laid {
  readonly plate: PlateRecipe;
  readonly map: PlateMap;
  /** Undistorted pixels to plate mm. */
  readonly inverse: readonly number[];
  /** Pixels per mm at the plate's middle. */
  readonly sharp: number;
  /** Width of the outermost part, mm, that `mixRim` draws. */
  readonly rim: number;
  /** Scratch for the layer's colour. */
  readonly layer: Float64Array;
}

/** Writes the layer's light at (u, v) mm into `out`, bilinear. */
function sampleMap(map: PlateMap, u: number, v: number, out: Float64Array): void {
  const mx = Math.min(map.width - 1.001, Math.max(0, u * map.scale - 0.5));
  const my = Math.min(map.height - 1.001, Math.max(0, v * map.scale - 0.5));
  const ix = Math.floor(mx);
  const iy = Math.floor(my);
  const tx = mx - ix;
  const ty = my - iy;
  const a = (1 - tx) * (1 - ty);
  const b = tx * (1 - ty);
  const c = (1 - tx) * ty;
  const e = tx * ty;
  const p = 3 * (iy * map.width + ix);
  const q = p + 3 * map.width;
  const d = map.data;
  out[0] = d[p] * a + d[p + 3] * b + d[q] * c + d[q + 3] * e;
  out[1] = d[p + 1] * a + d[p + 4] * b + d[q + 1] * c + d[q + 4] * e;
  out[2] = d[p + 2] * a + d[p + 5] * b + d[q + 2] * c + d[q + 5] * e;
}

/**
 * Mixes the outermost part of a plate over the colour in `out`; (u, v) in plate mm. Outside, its shadow falls on the
 * bench; inside, the layer's ragged edge and chipped corners let the support be seen.
 */
function mixRim(item: Laid, u: number, v: number, inside: number, ragged: number, light: Light, out: Float64Array) {
  const { plate, map, sharp } = item;
  const dim = light === "white" ? 0.4 : 0.25;
  if (inside < -0.5 / sharp) {
    const away = Math.hypot(Math.max(-u, u - plate.width, 0), Math.max(-v, v - plate.height, 0));
    if (light === "uv254") {
      // the glowing plate lights the bench around it
      const spill = 0.035 * Math.exp(-away / 7);
      for (let ch = 0; ch < 3; ch++) out[ch] += spill * plate.layer.phosphor[ch];
    }
    if (away > 6) return;
    const depth = away - (u > plate.width || v > plate.height ? 0.5 : 0);
    const shade = 1 - dim * Math.exp(-Math.max(0, depth) / 1.1);
    for (let ch = 0; ch < 3; ch++) out[ch] *= shade;
    return;
  }
  let bare = inside < ragged ? Math.min(1, (ragged - inside) * sharp * 0.7) : 0;
  for (const { corner, a, b } of plate.layer.chips) {
    const cx = corner === 1 || corner === 2 ? plate.width - u : u;
    const cy = corner >= 2 ? plate.height - v : v;
    const gone = 1 + 0.5 * ragged - cx / a - cy / b;
    if (gone > 0) bare = Math.max(bare, Math.min(1, gone * Math.min(a, b) * sharp));
  }
  const cover = Math.min(1, Math.max(0, 0.5 + inside * sharp));
  sampleMap(map, u, v, item.layer);
  // light is lost at the layer's edge
  const edge = inside < 0.6 ? 0.86 + 0.23 * inside : 1;
  for (let ch = 0; ch < 3; ch++) {
    const layer = item.layer[ch] * edge;
    const support = out[ch] * 0.75 + layer * 0.12;
    out[ch] += (layer + (support - layer) * bare - out[ch]) * cover;
  }
}

/** Lays bench, things and plates out in front of the camera and lights them. */
export function composeScene(
  photo: PhotoRecipe,
  plates: readonly PlateRecipe[],
  maps: ReadonlyMap<number, PlateMap>,
): Scene {
  const { width, height, light, distortion: k, lamp } = photo;
  const data = new Float32Array(width * height * 3);
  const toBench = invert(photo.homography);
  const laid = photo.plates.map(({ plate: index }): Laid => {
    const plate = plates[index];
    const matrix = plateToPhoto(photo, index, plate);
    const sharp = pixelsPerMm(matrix, plate.width / 2, plate.height / 2);
    const rim = 1 + Math.max(0, ...plate.layer.chips.map(({ a, b }) => Math.min(a, b) * 0.6));
    return { plate, map: maps.get(index)!, inverse: invert(matrix), sharp, rim, layer: new Float64Array(3) };
  });
  const sharp = laid[0].sharp;
  const bench = BENCH[photo.bench];
  const tile = noiseTile(photo.benchSeed);
  const under = photo.things.filter((t) => t.kind !== "finger").map((t) => thingPainter(t, light, sharp));
  const over = photo.things.filter((t) => t.kind === "finger").map((t) => thingPainter(t, light, sharp));
  const glareTint = GLARE_TINT[light];
  const out = new Float64Array(3);
  const half = 4 / (width * width + height * height);
  const benchAt = (px: number, py: number) => {
    const w = toBench[6] * px + toBench[7] * py + toBench[8];
    const x = (toBench[0] * px + toBench[1] * py + toBench[2]) / w;
    const y = (toBench[3] * px + toBench[4] * py + toBench[5]) / w;
    const tex = 1 + bench.texture * tileAt(tile, x * bench.alongX * 4, y * bench.alongY * 4);
    for (let ch = 0; ch < 3; ch++) out[ch] = bench[light][ch] * tex;
    for (let i = 0; i < under.length; i++) under[i](x, y, out);
  };
  const fingersAt = (px: number, py: number) => {
    const w = toBench[6] * px + toBench[7] * py + toBench[8];
    const x = (toBench[0] * px + toBench[1] * py + toBench[2]) / w;
    const y = (toBench[3] * px + toBench[4] * py + toBench[5]) / w;
    for (let i = 0; i < over.length; i++) over[i](x, y, out);
  };
  for (let y = 0; y < height; y++) {
    const dy = y + 0.5 - height / 2;
    for (let x = 0; x < width; x++) {
      const dx = x + 0.5 - width / 2;
      const s = 1 + k * (dx * dx + dy * dy) * half;
      const px = width / 2 + dx * s;
      const py = height / 2 + dy * s;
      let nearest = laid[0];
      let [u, v, inside] = [0, 0, Number.NEGATIVE_INFINITY];
      for (let i = 0; i < laid.length; i++) {
        const m = laid[i].inverse;
        const w = m[6] * px + m[7] * py + m[8];
        const pu = (m[0] * px + m[1] * py + m[2]) / w;
        const pv = (m[3] * px + m[4] * py + m[5]) / w;
        const depth = Math.min(pu, laid[i].plate.width - pu, pv, laid[i].plate.height - pv);
        if (depth <= inside) continue;
        nearest = laid[i];
        u = pu;
        v = pv;
        inside = depth;
      }
      if (inside > nearest.rim) sampleMap(nearest.map, u, v, out);
      else {
        benchAt(px, py);
        if (inside > -35)
          mixRim(
            nearest,
            u,
            v,
            inside,
            nearest.plate.layer.ragged * (1 + 0.8 * tileAt(tile, u * 3 + 11, v * 3 + 7)),
            light,
            out,
          );
      }
      if (over.length > 0) fingersAt(px, py);
      const lit = lampAt(lamp, width, height, x + 0.5, y + 0.5);
      const glare = lamp.glare.length ? glareAt(lamp, width, height, x + 0.5, y + 0.5) : 0;
      const at = 3 * (y * width + x);
      data[at] = out[0] * lit + glare * glareTint[0];
      data[at + 1] = out[1] * lit + glare * glareTint[1];
      data[at + 2] = out[2] * lit + glare * glareTint[2];
    }
  }
  return { width, height, data };
}

/** Local scale of a homography: geometric mean of its stretch at a place, pixels per mm. */
export function pixelsPerMm(homography: readonly number[], x: number, y: number): number {
  const h = 0.01;
  const [ax, ay] = applyMatrix(homography, x, y);
  const [bx, by] = applyMatrix(homography, x + h, y);
  const [cx, cy] = applyMatrix(homography, x, y + h);
  return Math.sqrt(Math.abs((bx - ax) * (cy - ay) - (cx - ax) * (by - ay))) / h;
}

/** Plate mm to undistorted pixels of a photo. */
export function plateToPhoto(photo: PhotoRecipe, index: number, plate: PlateRecipe): number[] {
  const p = photo.plates.find((placed) => placed.plate === index)!;
  return multiply(photo.homography, placementMatrix(p.x, p.y, p.turn, plate.width, plate.height));
}
