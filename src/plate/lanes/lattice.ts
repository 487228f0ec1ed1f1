/** Lanes at x = first + i * pitch, i = 0 .. count-1, in pixels. */
export interface Lattice {
  readonly count: number;
  readonly first: number;
  readonly pitch: number;
  readonly score: number;
}

/** Samples an array at a fractional index, 0 outside. */
function at(values: Float64Array, x: number): number {
  const i = Math.floor(x - 0.5);
  if (i < 0 || i + 1 >= values.length) return 0;
  const t = x - 0.5 - i;
  return values[i] * (1 - t) + values[i + 1] * t;
}

function smooth(values: Float64Array, sigma: number): Float64Array {
  const r = Math.ceil(2.5 * sigma);
  const kernel = Array.from({ length: 2 * r + 1 }, (_, i) => Math.exp(-((i - r) ** 2) / (2 * sigma * sigma)));
  const norm = kernel.reduce((a, b) => a + b, 0);
  return values.map((_, x) => {
    let s = 0;
    for (let i = Math.max(0, x - r), end = Math.min(values.length - 1, x + r); i <= end; i++)
      s += values[i] * kernel[i - x + r];
    return s / norm;
  });
}

/** Caps peaks at a multiple of the mean, so that a lane full of spots weighs little more than one with a single spot. */
function flatten(values: Float64Array): Float64Array {
  const mean = values.reduce((a, b) => a + b, 0) / Math.max(values.length, 1) || 1;
  return values.map((v) => {
    const r = v / mean;
    return r / (1 + 0.5 * r);
  });
}

/**
 * How well evenly spaced lanes explain the columns' energy: energy on the lanes less energy midway between them, and
 * a mild preference for margins as people leave them (outer lanes half to one pitch from the edge, about centred).
 */
function scoreOf(on: Float64Array, first: number, pitch: number, count: number, width: number): number {
  let score = 0;
  for (let i = 0; i < count; i++) score += at(on, first + i * pitch);
  for (let i = 0; i <= count; i++) score -= at(on, first + (i - 0.5) * pitch) * (i === 0 || i === count ? 0.5 : 1);
  const left = first / pitch;
  const right = (width - first - (count - 1) * pitch) / pitch;
  const margin = (m: number) => (m < 0.42 ? ((0.42 - m) / 0.12) ** 2 : Math.min(3, Math.max(0, m - 1.2)) * 0.8);
  const skew = Math.min(2, Math.abs(left - right) * 0.5);
  return score - 0.15 * (margin(left) + margin(right) + skew);
}

/** The best evenly spaced lanes for a given count. */
export function bestLattice(columns: Float64Array, count: number): Lattice {
  const width = columns.length;
  const flat = flatten(columns);
  let best: Lattice = { count, first: width / 2, pitch: width / (count + 1), score: Number.NEGATIVE_INFINITY };
  const low = count === 1 ? width / 2 : (0.5 * width) / count;
  const high = count === 1 ? width / 2 : width / (count - 0.25);
  const steps = count === 1 ? 1 : 72;
  const on = smooth(flat, Math.max(1.5, 0.12 * ((low + high) / 2)));
  for (let p = 0; p < steps; p++) {
    const pitch = count === 1 ? width : low + ((high - low) * p) / (steps - 1);
    const span = (count - 1) * (count === 1 ? 0 : pitch);
    const room = width - span;
    for (let k = 4; k <= 56; k++) {
      const first = (room * k) / 60;
      const score = scoreOf(on, first, pitch, count, width);
      if (score > best.score) best = { count, first, pitch, score };
    }
  }
  return refine(on, best, width);
}

function refine(on: Float64Array, start: Lattice, width: number): Lattice {
  let best = start;
  for (let step = 0.04; step > 0.004; step /= 2) {
    for (const dp of [-step, 0, step])
      for (const df of [-step, 0, step]) {
        const pitch = best.pitch * (1 + (dp / Math.max(best.count - 1, 1)) * 2);
        const first = best.first + df * best.pitch;
        const score = scoreOf(on, first, pitch, best.count, width);
        if (score > best.score) best = { count: best.count, first, pitch, score };
      }
  }
  return best;
}
