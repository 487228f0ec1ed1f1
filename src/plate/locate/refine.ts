import type { Point, Quad } from "../../model/index.ts";
import type { Picture } from "../../raster/picture.ts";

/** A corrected side: a point on it and its direction. */
interface Side {
  readonly x: number;
  readonly y: number;
  readonly dx: number;
  readonly dy: number;
}

const STATIONS = 72;

/**
 * Each side measured again in the full picture: along normals at many stations the place of the steepest change in the
 * side's own colour step is found to a fraction of a pixel, and a straight line fitted through the places by iterated
 * reweighting (Tukey's biweight), so that a finger, a label or a chipped corner is outvoted.
 * @param quad corners in pixels of the picture, right to within `reach`
 * @param reach how far from the quad's side to look, pixels
 * @param fixed sides (top, right, bottom, left) to leave where they are, such as those on the frame
 */
function refineQuad(picture: Picture, quad: Quad, reach: number, fixed: readonly boolean[]): Quad {
  const sides = [0, 1, 2, 3].map((i) => {
    const a = quad[i];
    const b = quad[(i + 1) & 3];
    const along = { x: a[0], y: a[1], dx: b[0] - a[0], dy: b[1] - a[1] };
    return fixed[i] ? along : (refineSide(picture, a, b, reach) ?? along);
  });
  const corners = [0, 1, 2, 3].map((i) => cross(sides[(i + 3) & 3], sides[i]) ?? quad[i]);
  for (let i = 0; i < 4; i++) {
    if (Math.hypot(corners[i][0] - quad[i][0], corners[i][1] - quad[i][1]) > 4 * reach) return quad;
  }
  return [corners[0], corners[1], corners[2], corners[3]];
}

/**
 * The same twice: from corners right to a pixel of the sketch, and closer by.
 * @param scale pixels of the picture on one of the sketch
 */
export function refinedTwice(picture: Picture, quad: Quad, scale: number, fixed: readonly boolean[]): Quad {
  return refineQuad(picture, refineQuad(picture, quad, 3 * scale, fixed), 1.5 * scale, fixed);
}

function cross(p: Side, q: Side): Point | null {
  const det = p.dx * q.dy - p.dy * q.dx;
  if (Math.abs(det) < 1e-9 * Math.hypot(p.dx, p.dy) * Math.hypot(q.dx, q.dy)) return null;
  const t = ((q.x - p.x) * q.dy - (q.y - p.y) * q.dx) / det;
  return [p.x + t * p.dx, p.y + t * p.dy];
}

function refineSide(picture: Picture, a: Point, b: Point, reach: number): Side | null {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const tx = (b[0] - a[0]) / length;
  const ty = (b[1] - a[1]) / length;
  const half = Math.max(4, Math.round(reach));
  const size = 2 * half + 1;
  const profiles = new Float32Array(STATIONS * size * 3);
  const at = new Float64Array(STATIONS);
  const widen = Math.max(1, Math.min(9, Math.floor((0.9 * length) / STATIONS)));
  for (let s = 0; s < STATIONS; s++) {
    at[s] = length * (0.03 + (0.94 * (s + 0.5)) / STATIONS);
    for (let m = 0; m < widen; m++)
      addProfile(picture, a, tx, ty, at[s] + m - (widen - 1) / 2, half, widen, profiles, s);
  }
  const scalar = alongStep(profiles, size, half);
  const places = steepest(scalar, size);
  return fitThrough(at, places, half, a, tx, ty);
}

/**
 * Adds a profile's part from outside to inside along the normal (-ty, tx), at t along the side, to those of station s; a
 * function of its own, which the engine compiles early.
 */
function addProfile(
  { width, height, data }: Picture,
  a: Point,
  tx: number,
  ty: number,
  t: number,
  half: number,
  widen: number,
  profiles: Float32Array,
  s: number,
): void {
  const size = 2 * half + 1;
  for (let k = 0, o = 3 * s * size; k < size; k++, o += 3) {
    const d = k - half;
    const x = Math.max(0, Math.min(width - 1, Math.floor(a[0] + tx * t - ty * d)));
    const y = Math.max(0, Math.min(height - 1, Math.floor(a[1] + ty * t + tx * d)));
    const p = (y * width + x) * 3;
    profiles[o] += data[p] / widen;
    profiles[o + 1] += data[p + 1] / widen;
    profiles[o + 2] += data[p + 2] / widen;
  }
}

/** Projects colour profiles on the side's median step from outside to inside: one number per place. */
function alongStep(profiles: Float32Array, size: number, half: number): Float32Array {
  const rim = Math.max(2, half >> 1);
  const step = [0, 1, 2].map((c) => {
    const differences = new Float64Array(STATIONS);
    for (let s = 0; s < STATIONS; s++) {
      let d = 0;
      for (let k = 0; k < rim; k++) d += profiles[(s * size + size - 1 - k) * 3 + c] - profiles[(s * size + k) * 3 + c];
      differences[s] = d / rim;
    }
    return differences.sort()[STATIONS >> 1];
  });
  const norm = Math.hypot(...step) || 1;
  const scalar = new Float32Array(STATIONS * size);
  for (let i = 0; i < scalar.length; i++) {
    scalar[i] = (profiles[3 * i] * step[0] + profiles[3 * i + 1] * step[1] + profiles[3 * i + 2] * step[2]) / norm;
  }
  return scalar;
}

interface Places {
  readonly offset: Float64Array;
  readonly strength: Float64Array;
}

/** Where each profile rises most steeply (smoothed over three places), to a fraction of a pixel. */
function steepest(scalar: Float32Array, size: number): Places {
  const offset = new Float64Array(STATIONS);
  const strength = new Float64Array(STATIONS);
  const slope = new Float64Array(size);
  for (let s = 0; s < STATIONS; s++) {
    const o = s * size;
    let best = -1;
    for (let k = 2; k < size - 2; k++) {
      slope[k] = scalar[o + k + 2] + 2 * scalar[o + k + 1] - 2 * scalar[o + k - 1] - scalar[o + k - 2];
      if (best < 0 || slope[k] > slope[best]) best = k;
    }
    strength[s] = Math.max(0, slope[best]);
    let shift = 0;
    if (best > 2 && best < size - 3) {
      const curve = slope[best - 1] - 2 * slope[best] + slope[best + 1];
      if (curve < -1e-9) shift = (0.5 * (slope[best - 1] - slope[best + 1])) / curve;
    }
    offset[s] = best + shift - (size - 1) / 2;
  }
  return { offset, strength };
}

function fitThrough(at: Float64Array, places: Places, half: number, a: Point, tx: number, ty: number): Side | null {
  const { offset, strength } = places;
  const typical = Float64Array.from(strength).sort()[STATIONS >> 1];
  if (typical <= 0) return null;
  const base = Float64Array.from(strength, (v) => Math.min(1, v / typical));
  let line = bestPair(at, offset, base, half);
  for (const spread of [0.25 * half, 0.15 * half, 0.1 * half, 0.1 * half]) {
    const width = Math.max(1.2, spread);
    let w = 0;
    let st = 0;
    let so = 0;
    let stt = 0;
    let sto = 0;
    for (let s = 0; s < STATIONS; s++) {
      const r = (offset[s] - line.c - line.m * at[s]) / width;
      if (Math.abs(r) >= 1) continue;
      const k = base[s] * (1 - r * r) ** 2;
      w += k;
      st += k * at[s];
      so += k * offset[s];
      stt += k * at[s] * at[s];
      sto += k * at[s] * offset[s];
    }
    const det = w * stt - st * st;
    if (w < 4 || det < 1e-6) break;
    line = { m: (w * sto - st * so) / det, c: (so * stt - st * sto) / det };
  }
  // Offsets count along the inward normal (-ty, tx); half a pixel because samples were taken by floor.
  return {
    x: a[0] - ty * line.c,
    y: a[1] + tx * line.c,
    dx: tx - ty * line.m,
    dy: ty + tx * line.m,
  };
}

/** The line through two places that most places agree with (all pairs of a thinned list: no chance involved). */
function bestPair(at: Float64Array, offset: Float64Array, base: Float64Array, half: number): { m: number; c: number } {
  const width = Math.max(1, 0.12 * half);
  const rest = sumsFrom(base);
  let best = { m: 0, c: 0 };
  let most = -1;
  for (let i = 0; i < STATIONS / 2; i += 2) {
    for (let j = STATIONS / 2; j < STATIONS; j += 2) {
      const m = (offset[j] - offset[i]) / (at[j] - at[i]);
      if (Math.abs(m) > 0.06) continue;
      const c = offset[i] - m * at[i];
      const votes = votesFor(m, c, at, offset, base, rest, width, most);
      if (votes > most) {
        most = votes;
        best = { m, c };
      }
    }
  }
  return best;
}

/** Sums of the values from each place on, and nothing behind the last. */
function sumsFrom(values: Float64Array): Float64Array {
  const sums = new Float64Array(values.length + 1);
  for (let i = values.length - 1; i >= 0; i--) sums[i] = sums[i + 1] + values[i];
  return sums;
}

/** How well the places agree with a line; looked at no further where that can't become more than `most`, rounding apart. */
function votesFor(
  m: number,
  c: number,
  at: Float64Array,
  offset: Float64Array,
  base: Float64Array,
  rest: Float64Array,
  width: number,
  most: number,
): number {
  const least = most - 1e-9;
  let votes = 0;
  for (let s = 0; s < base.length && votes + rest[s] > least; s++) {
    const r = Math.abs(offset[s] - c - m * at[s]);
    if (r < width) votes += base[s] * (1 - r / width);
  }
  return votes;
}
