import { selectAt } from "../../math/select.ts";
import type { Plane } from "../../raster/picture.ts";

/**
 * A straight bright band across a picture: where x nx + y ny = offset, from the picture's middle, brighter than at `aside` to both sides.
 * Pixels; nx, ny a unit vector across it.
 */
export interface Band {
  readonly nx: number;
  readonly ny: number;
  readonly offset: number;
  readonly aside: number;
}

const ANGLES = 40;
/** Sines of a band's slope below which it may be a front, a line or a row of spots. */
const LEVEL = 0.2;
/** Distances of the sides from the band's middle, as shares of the longer side. */
const ASIDE = [0.05, 0.09, 0.15];
/** The rim of the plate is left out, as a share of the longer side. */
const RIM = 0.03;
/** A band is at least so long, as a share of the shorter side. */
const LONG = 0.6;
/** All but this share of it is brighter than both sides, and all but that one by so many deviations of the picture's own unevenness. */
const DULL = 0.08;
const PALE = 0.25;
const CLEAR = 4;
/** Share of it that must lie far enough from the rim for both its sides to be seen. */
const SEEN = 0.8;

/**
 * The plainest band that runs across a picture from edge to edge, not level; null where there is none.
 * @param even what its duller parts must have of what its brighter ones have, 0..1 (quartiles)
 */
export function bandAcross(picture: Plane, even: number): Band | null {
  const { width, height } = picture;
  const longer = Math.max(width, height);
  const reach = Math.hypot(width, height) / 2;
  const heights = new Float64Array(2 * Math.ceil(reach) + 1);
  let best: { readonly band: Band; readonly strength: number } | null = null;
  for (const share of ASIDE) {
    const aside = share * longer;
    const spread = spreadAt(picture, aside);
    for (let k = 0; k < ANGLES; k++) {
      const angle = (k * Math.PI) / ANGLES;
      const [nx, ny] = [Math.cos(angle), Math.sin(angle)];
      if (Math.abs(nx) < LEVEL) continue;
      for (let offset = -reach; offset <= reach; offset++) {
        const band = { nx, ny, offset, aside };
        const strength = strengthOf(picture, band, spread, even, heights);
        if (strength > (best?.strength ?? CLEAR)) best = { band, strength };
      }
    }
  }
  return best?.band ?? null;
}

/**
 * What a quarter of the band stands out less than, in deviations; 0 where it is no band from edge to edge.
 * @param heights room for as many as there are steps along it
 */
function strengthOf(
  { width, height, data }: Plane,
  { nx, ny, offset, aside }: Band,
  spread: number,
  even: number,
  heights: Float64Array,
): number {
  const rim = RIM * Math.max(width, height);
  const [right, bottom] = [width - rim, height - rim];
  const reach = Math.hypot(width, height) / 2;
  const [dx, dy] = [aside * nx, aside * ny];
  const mostDull = 2 * DULL * reach;
  let count = 0;
  let dull = 0;
  let all = 0;
  for (let t = -reach; t <= reach; t++) {
    const x = width / 2 + offset * nx - t * ny;
    const y = height / 2 + offset * ny + t * nx;
    if (x < rim || y < rim || x >= right || y >= bottom) continue;
    all++;
    const xa = x - dx;
    const ya = y - dy;
    const xb = x + dx;
    const yb = y + dy;
    if (xa < rim || ya < rim || xa >= right || ya >= bottom) continue;
    if (xb < rim || yb < rim || xb >= right || yb >= bottom) continue;
    const here = data[(y | 0) * width + (x | 0)];
    const before = data[(ya | 0) * width + (xa | 0)];
    const beyond = data[(yb | 0) * width + (xb | 0)];
    // most places are given up after a few steps
    if ((here <= before || here <= beyond) && ++dull > mostDull) return 0;
    heights[count++] = here - (before + beyond) / 2;
  }
  if (count < LONG * Math.min(width, height) || count < SEEN * all) return 0;
  if (dull > DULL * count) return 0;
  const sorted = heights.subarray(0, count).sort();
  const [pale, bright] = [PALE, 1 - PALE].map((share) => sorted[Math.floor(share * count)]);
  return pale < even * bright ? 0 : pale / spread;
}

/** The usual size of the same difference, in any direction. */
function spreadAt({ width, height, data }: Plane, aside: number): number {
  const d = Math.max(1, Math.round(aside));
  const sizes = new Float32Array(2 * Math.max(0, width - 2 * d) * Math.max(0, height - 2 * d));
  let n = 0;
  for (let y = d; y < height - d; y++)
    for (let x = d; x < width - d; x++) {
      const i = y * width + x;
      sizes[n++] = Math.abs(data[i] - (data[i - d] + data[i + d]) / 2);
      sizes[n++] = Math.abs(data[i] - (data[i - d * width] + data[i + d * width]) / 2);
    }
  return n === 0 ? Infinity : 1.4826 * selectAt(sizes, n >> 1) + 1e-4;
}
