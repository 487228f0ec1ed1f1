import { addSmoothNoise, normalStream } from "../layer/noise.ts";

const TILE = 256;

/** Tile of smooth noise, unit variance, sampled by wrapping. */
export function noiseTile(seed: number): Float32Array {
  const normal = normalStream(seed);
  const tile = new Float32Array(TILE * TILE);
  for (const [cell, gain] of [
    [32, 0.6],
    [8, 0.6],
    [2, 0.5],
  ])
    addSmoothNoise(tile, TILE, TILE, cell, gain, normal, true);
  return tile;
}

/** Bilinear value of a tile that repeats every 256 steps. */
export function tileAt(tile: Float32Array, x: number, y: number): number {
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
