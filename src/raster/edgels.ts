import type { Sketch } from "./shrink.ts";

/** Edge points of a picture, structure of arrays. */
export interface Edgels {
  readonly count: number;
  /** Sub-pixel position, in pixels of the sketch (a pixel's centre lies at .5). */
  readonly x: Float32Array;
  readonly y: Float32Array;
  /** Unit vector along which the picture gets brighter. */
  readonly nx: Float32Array;
  readonly ny: Float32Array;
  /** Strength against its surroundings, 0..1: faint edges on quiet ground count as much as bold ones. */
  readonly weight: Float32Array;
}

/**
 * Edge points after J. Canny (IEEE PAMI 1986, 8, 679): binomial smoothing, central differences in the colour channel
 * with the largest gradient, non-maximum suppression along it, sub-pixel place from a parabola.
 * The weight grows from 0 where the gradient is like that around to 1 where it is far above it and above the noise.
 * @param noise standard deviation of the sketch's noise, codes
 */
export function findEdgels(sketch: Sketch, noise: number): Edgels {
  const { width: w, height: h } = sketch;
  const n = w * h;
  const gx = new Float32Array(n);
  const gy = new Float32Array(n);
  const strength = new Float32Array(n);
  const smooth = new Float32Array(n);
  const rowBuffer = new Float32Array(n);
  for (const channel of [sketch.r, sketch.g, sketch.b]) {
    binomial(channel, w, h, rowBuffer, smooth);
    for (let y = 1; y < h - 1; y++) {
      for (let x = 1, i = y * w + 1; x < w - 1; x++, i++) {
        const dx = smooth[i + 1] - smooth[i - 1];
        const dy = smooth[i + w] - smooth[i - w];
        const m = dx * dx + dy * dy;
        if (m > strength[i]) {
          strength[i] = m;
          gx[i] = dx;
          gy[i] = dy;
        }
      }
    }
  }
  // The mean of roots, squared: a few bold edges nearby must not hide a faint one.
  for (let i = 0; i < n; i++) {
    strength[i] = Math.sqrt(strength[i]);
    smooth[i] = Math.sqrt(strength[i]);
  }
  const around = boxMean(smooth, w, h, Math.round(Math.max(w, h) / 16), rowBuffer, smooth);
  for (let i = 0; i < n; i++) around[i] *= around[i];
  return collect(gx, gy, strength, around, w, h, noise);
}

function collect(
  gx: Float32Array,
  gy: Float32Array,
  strength: Float32Array,
  around: Float32Array,
  w: number,
  h: number,
  noise: number,
): Edgels {
  const room = Math.ceil((w * h) / 3);
  const xs = new Float32Array(room);
  const ys = new Float32Array(room);
  const nx = new Float32Array(room);
  const ny = new Float32Array(room);
  const weight = new Float32Array(room);
  const floor = 0.9 * noise;
  let count = 0;
  for (let y = 2; y < h - 2; y++) {
    for (let x = 2, i = y * w + 2; x < w - 2; x++, i++) {
      const m = strength[i];
      if (m < floor || count >= room) continue;
      const share = m / (m + Math.max(noise, around[i]));
      const own = (share - 0.4) / 0.6;
      if (own <= 0.02) continue;
      const ux = gx[i] / m;
      const uy = gy[i] / m;
      const ax = Math.abs(ux);
      const ay = Math.abs(uy);
      let before: number;
      let after: number;
      let step: number;
      if (ax >= ay) {
        const t = ay / ax;
        const turn = ux * uy >= 0 ? w : -w;
        after = (1 - t) * strength[i + 1] + t * strength[i + 1 + turn];
        before = (1 - t) * strength[i - 1] + t * strength[i - 1 - turn];
        step = ux >= 0 ? 1 / ax : -1 / ax;
      } else {
        const t = ax / ay;
        const turn = ux * uy >= 0 ? 1 : -1;
        after = (1 - t) * strength[i + w] + t * strength[i + w + turn];
        before = (1 - t) * strength[i - w] + t * strength[i - w - turn];
        step = uy >= 0 ? 1 / ay : -1 / ay;
      }
      if (m < before || m <= after) continue;
      const curve = before - 2 * m + after;
      const shift = curve < -1e-9 ? (0.5 * (before - after)) / curve : 0;
      xs[count] = x + 0.5 + shift * step * ux;
      ys[count] = y + 0.5 + shift * step * uy;
      nx[count] = ux;
      ny[count] = uy;
      weight[count] = own;
      count++;
    }
  }
  return { count, x: xs, y: ys, nx, ny, weight };
}

/** 1-4-6-4-1 in both directions; borders repeat. */
function binomial(source: Float32Array, w: number, h: number, rows: Float32Array, out: Float32Array): void {
  for (let y = 0; y < h; y++) {
    const o = y * w;
    for (let x = 0; x < w; x++) {
      const a = source[o + (x > 1 ? x - 2 : 0)];
      const b = source[o + (x > 0 ? x - 1 : 0)];
      const d = source[o + (x < w - 1 ? x + 1 : w - 1)];
      const e = source[o + (x < w - 2 ? x + 2 : w - 1)];
      rows[o + x] = (a + e + 4 * (b + d) + 6 * source[o + x]) * 0.0625;
    }
  }
  for (let y = 0; y < h; y++) {
    const o = y * w;
    const a = (y > 1 ? y - 2 : 0) * w;
    const b = (y > 0 ? y - 1 : 0) * w;
    const d = (y < h - 1 ? y + 1 : h - 1) * w;
    const e = (y < h - 2 ? y + 2 : h - 1) * w;
    for (let x = 0; x < w; x++) {
      out[o + x] = (rows[a + x] + rows[e + x] + 4 * (rows[b + x] + rows[d + x]) + 6 * rows[o + x]) * 0.0625;
    }
  }
}

/** Mean over a square of (2 radius + 1) pixels, cut at the borders, by running sums. */
function boxMean(
  source: Float32Array,
  w: number,
  h: number,
  radius: number,
  rows: Float32Array,
  out: Float32Array,
): Float32Array {
  for (let y = 0; y < h; y++) {
    const o = y * w;
    let sum = 0;
    for (let x = 0; x < Math.min(radius, w); x++) sum += source[o + x];
    for (let x = 0; x < w; x++) {
      if (x + radius < w) sum += source[o + x + radius];
      if (x - radius - 1 >= 0) sum -= source[o + x - radius - 1];
      rows[o + x] = sum / (Math.min(w - 1, x + radius) - Math.max(0, x - radius) + 1);
    }
  }
  const sums = new Float64Array(w);
  for (let y = 0; y < Math.min(radius, h); y++) for (let x = 0; x < w; x++) sums[x] += rows[y * w + x];
  for (let y = 0; y < h; y++) {
    const o = y * w;
    const enter = y + radius < h ? (y + radius) * w : -1;
    const leave = y - radius - 1 >= 0 ? (y - radius - 1) * w : -1;
    const share = 1 / (Math.min(h - 1, y + radius) - Math.max(0, y - radius) + 1);
    for (let x = 0; x < w; x++) {
      if (enter >= 0) sums[x] += rows[enter + x];
      if (leave >= 0) sums[x] -= rows[leave + x];
      out[o + x] = sums[x] * share;
    }
  }
  return out;
}

/**
 * Standard deviation of the pixel noise of a sketch, codes: the median over small blocks of the mean absolute response
 * to the difference of two Laplacians, which is blind to planes and straight edges
 * (J. Immerkaer, Computer Vision and Image Understanding 1996, 64, 300). At least 0.05.
 */
export function sketchNoise(sketch: Sketch): number {
  const { width: w, height: h } = sketch;
  let worst = 0;
  for (const c of [sketch.r, sketch.g, sketch.b]) {
    const means: number[] = [];
    for (let y0 = 1; y0 + 8 < h; y0 += 16) {
      for (let x0 = 1; x0 + 8 < w; x0 += 16) {
        let sum = 0;
        for (let y = y0; y < y0 + 8; y++) {
          for (let x = x0, i = y * w + x0; x < x0 + 8; x++, i++) {
            sum += Math.abs(
              c[i - w - 1] +
                c[i - w + 1] +
                c[i + w - 1] +
                c[i + w + 1] -
                2 * (c[i - 1] + c[i + 1] + c[i - w] + c[i + w]) +
                4 * c[i],
            );
          }
        }
        means.push(sum / 64);
      }
    }
    means.sort((a, b) => a - b);
    const median = means.length > 0 ? means[means.length >> 1] : 0;
    worst = Math.max(worst, (Math.sqrt(Math.PI / 2) / 6) * median);
  }
  return Math.max(0.05, worst);
}
