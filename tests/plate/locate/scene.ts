import { normalDeviate, seededRandom } from "../../../src/math/random.ts";
import type { Point, Quad } from "../../../src/model/index.ts";
import {
  applyHomography,
  type Homography,
  homographyFrom,
  invertHomography,
  rectangle,
} from "../../../src/raster/homography.ts";
import type { Picture } from "../../../src/raster/picture.ts";

/** Colour in sRGB codes at a place; for plates u and v are plate fractions, for grounds pixels. */
export type Paint = (u: number, v: number) => readonly [number, number, number];

/** A canvas of sRGB codes in real numbers. */
export interface Canvas {
  readonly width: number;
  readonly height: number;
  readonly data: Float32Array;
}

export function canvas(width: number, height: number, ground: Paint): Canvas {
  const data = new Float32Array(width * height * 3);
  for (let y = 0, o = 0; y < height; y++) {
    for (let x = 0; x < width; x++, o += 3) data.set(ground(x, y), o);
  }
  return { width, height, data };
}

/** Paints a quadrilateral over the canvas, its rim smoothed over one pixel. */
export function paintQuad(on: Canvas, quad: Quad, paint: Paint): void {
  const back = invertHomography(homographyFrom(rectangle(1, 1), quad) as Homography) as Homography;
  const xs = quad.map((p) => p[0]);
  const ys = quad.map((p) => p[1]);
  for (let y = Math.max(0, Math.floor(Math.min(...ys)) - 1); y < Math.min(on.height, Math.max(...ys) + 1); y++) {
    for (let x = Math.max(0, Math.floor(Math.min(...xs)) - 1); x < Math.min(on.width, Math.max(...xs) + 1); x++) {
      const cover = Math.max(0, Math.min(1, 0.5 + insideBy(quad, x + 0.5, y + 0.5)));
      if (cover === 0) continue;
      const [u, v] = applyHomography(back, [x + 0.5, y + 0.5]);
      const colour = paint(u, v);
      const o = (y * on.width + x) * 3;
      for (let c = 0; c < 3; c++) on.data[o + c] += cover * (colour[c] - on.data[o + c]);
    }
  }
}

/** Distance to the nearest side, positive inside (corners clockwise as seen). */
function insideBy(quad: Quad, x: number, y: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < 4; i++) {
    const [ax, ay] = quad[i];
    const [bx, by] = quad[(i + 1) & 3];
    least = Math.min(least, ((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / Math.hypot(bx - ax, by - ay));
  }
  return least;
}

/** Multiplies light towards the rim of the frame: 0 none, 0.6 the corners at 40 %. */
export function vignette(on: Canvas, depth: number): void {
  for (let y = 0, o = 0; y < on.height; y++) {
    for (let x = 0; x < on.width; x++, o += 3) {
      const r2 = ((x / on.width - 0.5) ** 2 + (y / on.height - 0.5) ** 2) / 0.5;
      for (let c = 0; c < 3; c++) on.data[o + c] *= 1 - depth * r2;
    }
  }
}

/** Camera noise of `sd` codes and rounding. */
export function expose(on: Canvas, sd: number, seed: number): Picture {
  const random = seededRandom(seed);
  const data = Uint8Array.from(on.data, (v) => Math.max(0, Math.min(255, Math.round(v + sd * normalDeviate(random)))));
  return { width: on.width, height: on.height, data };
}

/** A layer with a pencil line near its foot and rows of round spots. */
export function layer(
  ground: readonly [number, number, number],
  spot: readonly [number, number, number],
  lanes: number,
  pencil = 0.75,
): Paint {
  return (u, v) => {
    let depth = 0;
    for (let lane = 0; lane < lanes; lane++) {
      const x = (lane + 0.7) / (lanes + 0.4);
      const y = 0.25 + 0.45 * (((lane * 37) % 10) / 10);
      depth = Math.max(depth, Math.exp(-(((u - x) / 0.03) ** 2 + ((v - y) / 0.03) ** 2)));
    }
    const line = Math.abs(v - 0.88) < 0.004 && u > 0.03 && u < 0.97 ? pencil : 1;
    return [0, 1, 2].map((c) => line * (ground[c] + 0.7 * depth * (spot[c] - ground[c]))) as [number, number, number];
  };
}

/** A rectangle of the given size turned by `degrees` about its centre, with corners pulled for perspective. */
export function tilted(cx: number, cy: number, width: number, height: number, degrees: number, pull = 0): Quad {
  const a = (degrees * Math.PI) / 180;
  const at = (x: number, y: number): Point => [
    cx + x * Math.cos(a) - y * Math.sin(a),
    cy + x * Math.sin(a) + y * Math.cos(a),
  ];
  const w = width / 2;
  const h = height / 2;
  return [at(-w * (1 - pull), -h), at(w * (1 - pull), -h), at(w, h), at(-w, h)];
}

/** Largest corner error over the diagonal, whichever corner the finder called first. */
export function cornerError(found: Quad, truth: Quad): number {
  const diagonal = Math.hypot(truth[2][0] - truth[0][0], truth[2][1] - truth[0][1]);
  let best = Number.POSITIVE_INFINITY;
  for (let k = 0; k < 4; k++) {
    const worst = Math.max(
      ...truth.map((p, i) => Math.hypot(p[0] - found[(i + k) & 3][0], p[1] - found[(i + k) & 3][1])),
    );
    best = Math.min(best, worst);
  }
  return best / diagonal;
}
