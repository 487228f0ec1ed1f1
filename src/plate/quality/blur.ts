import type { Point, Quad } from "../../model/index.ts";
import type { Picture } from "../../raster/picture.ts";

const STATIONS = 40;

/**
 * Pixels that the plate's edge takes to rise from 10 to 90 % (ISO 12233 names the same figure for slanted edges; from
 * memory). Each side is judged by the median of its stations, the sharpest side stands for the photo: a soft side is
 * more often a shadow than blur.
 * @param quad corners in pixels of the picture
 * @returns at least 1; the half-width of the search where no side shows an edge
 */
export function edgeRise(picture: Picture, quad: Quad): number {
  const diagonal = Math.hypot(quad[2][0] - quad[0][0], quad[2][1] - quad[0][1]);
  const half = Math.max(6, Math.round(0.015 * diagonal));
  let best = half;
  for (let i = 0; i < 4; i++) {
    const rise = sideRise(picture, quad[i], quad[(i + 1) & 3], half);
    if (rise !== null) best = Math.min(best, rise);
  }
  return Math.max(1, best);
}

function sideRise(picture: Picture, a: Point, b: Point, half: number): number | null {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const nx = -(b[1] - a[1]) / length;
  const ny = (b[0] - a[0]) / length;
  const rises: number[] = [];
  for (let s = 0; s < STATIONS; s++) {
    const t = 0.05 + (0.9 * (s + 0.5)) / STATIONS;
    const profile = profileAcross(picture, a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]), nx, ny, half);
    const rise = profile && riseOf(profile);
    if (rise) rises.push(rise);
  }
  if (rises.length < STATIONS / 3) return null;
  rises.sort((p, q) => p - q);
  return rises[rises.length >> 1];
}

/** Sum of the codes along a normal, from outside to inside; null where it leaves the frame. */
function profileAcross(picture: Picture, x: number, y: number, nx: number, ny: number, half: number): number[] | null {
  const out: number[] = [];
  for (let d = -half; d <= half; d++) {
    const sx = x + nx * d - 0.5;
    const sy = y + ny * d - 0.5;
    if (sx < 0 || sy < 0 || sx >= picture.width - 1 || sy >= picture.height - 1) return null;
    const ix = Math.floor(sx);
    const iy = Math.floor(sy);
    const fx = sx - ix;
    const fy = sy - iy;
    let value = 0;
    for (let c = 0; c < 3; c++) {
      const p = 3 * (iy * picture.width + ix) + c;
      const q = p + 3 * picture.width;
      const top = picture.data[p] * (1 - fx) + picture.data[p + 3] * fx;
      value += top * (1 - fy) + (picture.data[q] * (1 - fx) + picture.data[q + 3] * fx) * fy;
    }
    out.push(value);
  }
  return out;
}

/** Distance over which a profile passes from 10 to 90 % of its step; null where there is no clear step. */
function riseOf(profile: number[]): number | null {
  const n = profile.length;
  const rim = Math.max(2, Math.floor(n / 5));
  const mean = (from: number) => profile.slice(from, from + rim).reduce((s, v) => s + v, 0) / rim;
  const low = mean(0);
  const high = mean(n - rim);
  if (Math.abs(high - low) < 30) return null;
  const level = profile.map((v) => (v - low) / (high - low));
  let middle = Math.floor(n / 2);
  for (let k = 0; k < n; k++) {
    const i = Math.floor(n / 2) + (k % 2 === 0 ? k / 2 : -(k + 1) / 2);
    if (i > 0 && i < n && level[i - 1] < 0.5 && level[i] >= 0.5) {
      middle = i;
      break;
    }
  }
  let top = middle;
  while (top < n && level[top] < 0.9) top++;
  let foot = middle;
  while (foot >= 0 && level[foot] > 0.1) foot--;
  if (top >= n || foot < 0) return null;
  const upper = top - (level[top] - 0.9) / Math.max(1e-6, level[top] - level[top - 1]);
  const lower = foot + (0.1 - level[foot]) / Math.max(1e-6, level[foot + 1] - level[foot]);
  return upper - lower;
}
