import { normalDeviate, seededRandom } from "../../../src/math/random.ts";
import type { Light } from "../../../src/model/index.ts";
import type { LinearView } from "../../../src/plate/view.ts";
import { makePlane, type Plane } from "../../../src/raster/picture.ts";

type Rgb = readonly [number, number, number];

/** A Gaussian spot; positions and widths in plate fractions, strength per channel: density, or emission at 365 nm. */
export interface DrawnSpot {
  readonly u: number;
  readonly v: number;
  readonly sigmaU: number;
  readonly sigmaV: number;
  readonly strength: Rgb;
  /** Exponent of the flanks: 2 a Gaussian, more a flat top. */
  readonly exponent?: number;
  /** Factor on the width below the centre, for a tail. */
  readonly tail?: number;
}

/** Grey ink of pencil, dust, a scratch, a wet front: ends in plate fractions, half width in pixels. */
export interface DrawnStroke {
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
  readonly half: number;
  readonly density: number;
  /** How much lower the ends lie than the middle, plate fractions: a bowed front. */
  readonly bow?: number;
}

export interface DrawnPlate {
  readonly width?: number;
  readonly height?: number;
  readonly light?: Light;
  /** Linear light of the bare layer at the brightest place of the lamp. */
  readonly ground?: Rgb;
  /** Light of the lamp at a place, 1 the brightest. */
  readonly lamp?: (u: number, v: number) => number;
  readonly spots?: readonly DrawnSpot[];
  readonly strokes?: readonly DrawnStroke[];
  /** Relative noise of each pixel, one standard deviation. */
  readonly noise?: number;
  readonly seed?: number;
}

/** Green under 254 nm, nothing clipped. */
const GREEN: Rgb = [0.12, 0.6, 0.2];
const BASE = { width: 450, height: 600, light: "uv254", ground: GREEN, noise: 0.012, seed: 7 } as const;

/** A lamp to the upper left: the far corner gets about 55 % of the light. */
export const lampAside = (u: number, v: number): number => 1 / (1 + 0.35 * (u * u + 1.2 * v * v));

/** Draws a straightened plate in linear light, as `rectifyLinear` hands it on. */
export function drawPlate(plate: DrawnPlate): LinearView {
  const { width, height, light, ground, noise, seed } = { ...BASE, ...plate };
  const signal = [0, 1, 2].map(() => makePlane(width, height));
  for (const spot of plate.spots ?? []) addSpot(signal, spot);
  const ink = makePlane(width, height);
  for (const stroke of plate.strokes ?? []) addStroke(ink, stroke);
  const random = seededRandom(seed);
  const clipped = new Uint8Array(width * height);
  const planes = ground.map((bare, c) => {
    const out = makePlane(width, height);
    for (let i = 0; i < out.data.length; i++) {
      const lamp = plate.lamp?.(((i % width) + 0.5) / width, (Math.floor(i / width) + 0.5) / height) ?? 1;
      const lit = light === "uv365" ? bare + signal[c].data[i] : bare * 10 ** -signal[c].data[i];
      const value = lamp * lit * 10 ** -ink.data[i] * (1 + noise * normalDeviate(random));
      if (value >= 1) clipped[i] |= 1 << c;
      out.data[i] = Math.min(1, Math.max(0, value));
    }
    return out;
  });
  return { light, r: planes[0], g: planes[1], b: planes[2], clipped };
}

function addSpot(signal: readonly Plane[], spot: DrawnSpot): void {
  const { width, height } = signal[0];
  const { u, v, sigmaU, sigmaV, strength, exponent = 2, tail = 1 } = spot;
  const reach = 4 * Math.max(1, tail);
  for (
    let y = Math.max(0, Math.floor((v - 4 * sigmaV) * height));
    y < Math.min(height, (v + reach * sigmaV) * height);
    y++
  )
    for (
      let x = Math.max(0, Math.floor((u - 4 * sigmaU) * width));
      x < Math.min(width, (u + 4 * sigmaU) * width);
      x++
    ) {
      const dy = (y + 0.5) / height - v;
      const along = Math.abs(dy) / (sigmaV * (dy > 0 ? tail : 1));
      const across = Math.abs((x + 0.5) / width - u) / sigmaU;
      const shape = Math.exp(-0.5 * Math.hypot(along, across) ** exponent);
      for (let c = 0; c < 3; c++) signal[c].data[y * width + x] += strength[c] * shape;
    }
}

/** A stroke with soft edges of one pixel. Drawn strokes do not add up where they cross: pencil on pencil is pencil. */
function addStroke(ink: Plane, { from, to, half, density, bow = 0 }: DrawnStroke): void {
  const { width, height, data } = ink;
  const [x0, y0, x1, y1] = [from[0] * width, from[1] * height, to[0] * width, to[1] * height];
  const length2 = Math.max((x1 - x0) ** 2 + (y1 - y0) ** 2, 1e-9);
  const rows = range(y0, y1, half + 2, height, Math.max(0, bow) * height);
  const columns = range(x0, x1, half + 2, width);
  for (let y = rows[0]; y < rows[1]; y++)
    for (let x = columns[0]; x < columns[1]; x++) {
      const c = (2 * (x + 0.5)) / width - 1;
      const px = x + 0.5 - x0;
      const py = y + 0.5 - bow * height * c * c - y0;
      const t = Math.min(1, Math.max(0, (px * (x1 - x0) + py * (y1 - y0)) / length2));
      const distance = Math.hypot(px - t * (x1 - x0), py - t * (y1 - y0));
      if (distance > half + 1) continue;
      const soft = Math.min(1, half + 0.5 - distance + 0.5);
      data[y * width + x] = Math.max(data[y * width + x], density * Math.max(0, soft));
    }
}

/** Whole pixels between two ends, `rim` more at both sides and `beyond` more at the far one. */
function range(a: number, b: number, rim: number, size: number, beyond = 0): [number, number] {
  return [Math.max(0, Math.floor(Math.min(a, b) - rim)), Math.min(size, Math.ceil(Math.max(a, b) + rim + beyond))];
}

/** A pencil line across the plate: its height at the middle, and how much lower the right end lies than the left one. */
export const lineAcross = (v: number, options: Partial<DrawnStroke> & { readonly tilt?: number } = {}): DrawnStroke => {
  const { tilt = 0, ...rest } = options;
  return { from: [0, v - tilt / 2], to: [1, v + tilt / 2], half: 0.9, density: 0.25, ...rest };
};

/** An upright tick through (u, v), `size` of the plate's height long. */
export const tick = (u: number, v: number, size = 0.022): DrawnStroke => ({
  from: [u, v - size / 2],
  to: [u, v + size / 2],
  half: 0.9,
  density: 0.25,
});

/** Figures as strokes in a box one wide and one high, origin top left. */
const FIGURES: readonly (readonly (readonly [number, number, number, number])[])[] = [
  [
    [0, 0, 1, 0],
    [1, 0, 1, 1],
    [1, 1, 0, 1],
    [0, 1, 0, 0],
  ],
  [[0.5, 0, 0.5, 1]],
  [
    [0, 0, 1, 0],
    [1, 0, 1, 0.5],
    [1, 0.5, 0, 1],
    [0, 1, 1, 1],
  ],
  [
    [0, 0, 1, 0],
    [1, 0, 0.4, 0.45],
    [0.4, 0.45, 1, 0.6],
    [1, 0.6, 0.5, 1],
    [0.5, 1, 0, 0.95],
  ],
  [
    [0.7, 0, 0, 0.65],
    [0, 0.65, 1, 0.65],
    [0.75, 0.35, 0.75, 1],
  ],
  [
    [1, 0, 0, 0],
    [0, 0, 0, 0.45],
    [0, 0.45, 1, 0.6],
    [1, 0.6, 0.6, 1],
    [0.6, 1, 0, 1],
  ],
  [
    [0.8, 0, 0, 0.7],
    [0, 0.7, 0.5, 1],
    [0.5, 1, 0.9, 0.7],
    [0.9, 0.7, 0.1, 0.55],
  ],
  [
    [0, 0, 1, 0],
    [1, 0, 0.3, 1],
  ],
];

/** A figure (0 to 7) in pencil with its middle at (u, v), `size` of the plate's height high. */
export function figure(digit: number, u: number, v: number, size = 0.026): DrawnStroke[] {
  const wide = 0.024;
  return FIGURES[digit].map(([x0, y0, x1, y1]) => ({
    from: [u + (x0 - 0.5) * wide, v + (y0 - 0.5) * size],
    to: [u + (x1 - 0.5) * wide, v + (y1 - 0.5) * size],
    half: 0.8,
    density: 0.25,
  }));
}

/** Where a spot of a given Rf stands on a plate whose origin and front are level. */
export const heightAt = (rf: number, origin = 0.87, front = 0.1): number => origin - rf * (origin - front);
