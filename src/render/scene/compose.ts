import { addSmoothNoise, normalStream } from "../layer/noise.ts";
import type { PlateMap } from "../layer/paint.ts";
import type { PhotoRecipe, PlateRecipe } from "../recipe.ts";
import { applyMatrix, invert, multiply, placementMatrix } from "./homography.ts";
import { glareAt, lampAt } from "./lamp.ts";
import { BENCH } from "./materials.ts";
import { thingPainter } from "./things.ts";

/** Linear RGB light that reaches the lens: row-major, interleaved, 1 = a fully lit white layer. */
export interface Scene {
  readonly width: number;
  readonly height: number;
  readonly data: Float32Array;
}

const TILE = 256;

/** Tile of smooth noise, unit variance, sampled by wrapping. */
function noiseTile(seed: number): Float32Array {
  const normal = normalStream(seed);
  const tile = new Float32Array(TILE * TILE);
  for (const [cell, gain] of [
    [32, 0.6],
    [8, 0.6],
    [2, 0.5],
  ])
    addSmoothNoise(tile, TILE, TILE, cell, gain, normal);
  return tile;
}

function tileAt(tile: Float32Array, x: number, y: number): number {
  const ix = Math.floor(x);
  const iy = Math.floor(y);
  const tx = x - ix;
  const ty = y - iy;
  const r0 = (iy & 255) * TILE;
  const r1 = ((iy + 1) & 255) * TILE;
  const c0 = ix & 255;
  const c1 = (ix + 1) & 255;
  return (
    (tile[r0 + c0] * (1 - tx) + tile[r0 + c1] * tx) * (1 - ty) + (tile[r1 + c0] * (1 - tx) + tile[r1 + c1] * tx) * ty
  );
}

interface Laid {
  readonly plate: PlateRecipe;
  readonly map: PlateMap;
  /** Bench mm to plate mm. */
  readonly inverse: readonly number[];
}

/** Mixes one plate over the colour in `out`; (u, v) in plate mm. Outside, its shadow falls on the bench. */
function mixPlate(
  { plate, map }: Laid,
  u: number,
  v: number,
  sharp: number,
  ragged: number,
  dim: number,
  out: Float64Array,
) {
  const inside = Math.min(u, plate.width - u, v, plate.height - v);
  if (inside < -6) return;
  if (inside < -0.5 / sharp) {
    const shade = 1 - dim * Math.exp(-Math.abs(inside + (u > plate.width || v > plate.height ? 0.5 : 0)) / 1.1);
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
  const mx = Math.min(map.width - 1.001, Math.max(0, u * map.scale - 0.5));
  const my = Math.min(map.height - 1.001, Math.max(0, v * map.scale - 0.5));
  const ix = Math.floor(mx);
  const iy = Math.floor(my);
  const tx = mx - ix;
  const ty = my - iy;
  const p = 3 * (iy * map.width + ix);
  const q = p + 3 * map.width;
  const d = map.data;
  // light piles up and is lost at the layer's edge
  const edge = inside < 0.6 ? 0.86 + 0.23 * inside : 1;
  for (let ch = 0; ch < 3; ch++) {
    const top = d[p + ch] * (1 - tx) + d[p + ch + 3] * tx;
    const low = d[q + ch] * (1 - tx) + d[q + ch + 3] * tx;
    const layer = (top * (1 - ty) + low * ty) * edge;
    const support = out[ch] * 0.75 + layer * 0.12;
    const seen = layer + (support - layer) * bare;
    out[ch] += (seen - out[ch]) * cover;
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
  const laid = photo.plates.map((p): Laid => {
    const plate = plates[p.plate];
    return {
      plate,
      map: maps.get(p.plate)!,
      inverse: invert(placementMatrix(p.x, p.y, p.turn, plate.width, plate.height)),
    };
  });
  const sharp = pixelsPerMm(photo.homography, 0, 0);
  const bench = BENCH[photo.bench];
  const [b0, b1, b2] = bench[light];
  const tile = noiseTile(photo.benchSeed);
  const under = photo.things.filter((t) => t.kind !== "finger").map((t) => thingPainter(t, light, sharp));
  const over = photo.things.filter((t) => t.kind === "finger").map((t) => thingPainter(t, light, sharp));
  const dim = light === "white" ? 0.4 : 0.25;
  const glareTint = light === "white" ? [1, 1, 1] : [0.25, 0.12, 1];
  const out = new Float64Array(3);
  const half = 4 / (width * width + height * height);
  for (let y = 0; y < height; y++) {
    const dy = y + 0.5 - height / 2;
    for (let x = 0; x < width; x++) {
      const dx = x + 0.5 - width / 2;
      const s = 1 + k * (dx * dx + dy * dy) * half;
      const px = width / 2 + dx * s;
      const py = height / 2 + dy * s;
      const w = toBench[6] * px + toBench[7] * py + toBench[8];
      const X = (toBench[0] * px + toBench[1] * py + toBench[2]) / w;
      const Y = (toBench[3] * px + toBench[4] * py + toBench[5]) / w;
      const tex = 1 + bench.texture * tileAt(tile, X * bench.alongX * 4, Y * bench.alongY * 4);
      out[0] = b0 * tex;
      out[1] = b1 * tex;
      out[2] = b2 * tex;
      for (const paint of under) paint(X, Y, out);
      for (const item of laid) {
        const m = item.inverse;
        const wp = m[6] * X + m[7] * Y + m[8];
        const u = (m[0] * X + m[1] * Y + m[2]) / wp;
        const v = (m[3] * X + m[4] * Y + m[5]) / wp;
        if (u < -6 || v < -6 || u > item.plate.width + 6 || v > item.plate.height + 6) continue;
        const ragged = 0.12 + 0.1 * tileAt(tile, u * 3 + 11, v * 3 + 7);
        mixPlate(item, u, v, sharp, ragged, dim, out);
      }
      for (const paint of over) paint(X, Y, out);
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
