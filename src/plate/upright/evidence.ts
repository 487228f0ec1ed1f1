import type { Patch } from "../../raster/components.ts";
import type { Signs } from "./signs.ts";

const BINS = 24;
const STROKE = 4.5;
const SPOT = 4;

/** Names of the numbers in `evidenceFor`, in order. */
export const EVIDENCE = [
  "originRow",
  "frontRow",
  "middleRow",
  "marksBelow",
  "marksAbove",
  "marksMiddle",
  "markBins",
  "labelRow",
  "spotColumns",
  "aligned",
  "headroom",
  "footroom",
  "band",
  "residue",
  "tall",
  "bandFoot",
  "side",
  "combFoot",
  "combTop",
  "combBest",
  "tailing",
  "low",
  "spanFoot",
  "spanTop",
] as const;

/** What speaks for the plate standing as `signs` show it (front up), one number per name in `EVIDENCE`, about 0..1 each. */
export function evidenceFor(signs: Signs): number[] {
  const { width: w, height: h, strokes, blobs, shade, marks } = signs;
  const fill = rowFill(strokes, w, h);
  const at = (from: number, to: number) => {
    let best = 0;
    let where = from * h;
    for (let y = Math.round(from * h); y < Math.round(to * h); y++)
      if (fill[y] > best) {
        best = fill[y];
        where = y;
      }
    return { best, where };
  };
  const origin = at(0.74, 0.965);
  const front = at(0.03, 0.25);
  const middle = at(0.35, 0.65);
  const count = (from: number, to: number) => marks.filter((m) => m.cy >= from * h && m.cy < to * h).length;
  const log = (n: number) => Math.log1p(n) / 3;
  const row = fullestMarks(marks, w, h, 0.72);
  const topRow = fullestMarks(marks, w, h, 0, 0.28);
  const lanes = columnProfile(blobs, w, h, 0.2, 0.8);
  const rows = rowProfile(blobs, w, h);
  const sum = (from: number, to: number) => {
    let s = 0;
    for (let y = Math.round(from * h); y < Math.round(to * h); y++) s += rows[y];
    return s;
  };
  const all = sum(0, 1) + 1e-6;
  return [
    origin.best,
    front.best,
    middle.best,
    log(count(0.76, 1)),
    log(count(0, 0.24)),
    log(count(0.3, 0.7)),
    row.bins / BINS,
    topRow.bins / BINS,
    peaky(lanes) - peaky(rows.subarray(Math.round(0.12 * h), Math.round(0.88 * h))),
    alignment(
      marks.filter((m) => m.cy > 0.72 * h),
      lanes,
      w,
    ),
    sum(0, 0.1) / all,
    sum(0.9, 1) / all,
    bandAt(shade, w, h, 0.03, 0.24),
    origin.best > 0.3 ? sum((origin.where - 0.03 * h) / h, (origin.where + 0.03 * h) / h) / all : 0,
    tallness(blobs, w, h),
    bandAt(shade, w, h, 0.76, 0.97),
    log(marks.filter((m) => m.cx < 0.12 * w || m.cx > 0.88 * w).length),
    comb(strokes, w, h, 0.74, 0.975),
    comb(strokes, w, h, 0.025, 0.26),
    Math.max(0, comb(strokes, w, h, 0.78, 0.95) - comb(strokes, w, h, 0.3, 0.7)),
    tailing(blobs, w, h),
    topmost(blobs, w, h),
    row.span,
    topRow.span,
  ];
}

/** Share of column bins that hold a stroke within a few rows of each row; slanted lines are followed by three tilts. */
function rowFill(strokes: Float32Array, w: number, h: number): Float32Array {
  const hit = new Uint8Array(BINS * h);
  for (let y = 0, i = 0; y < h; y++)
    for (let x = 0; x < w; x++, i++) if (strokes[i] > STROKE) hit[y * BINS + Math.floor((x * BINS) / w)] = 1;
  const out = new Float32Array(h);
  const reach = Math.max(1, Math.round(0.006 * h));
  for (const tilt of [-0.03, -0.015, 0, 0.015, 0.03]) {
    for (let y = 0; y < h; y++) {
      let bins = 0;
      for (let b = 0; b < BINS; b++) {
        const m = y + Math.round(tilt * h * (b / (BINS - 1) - 0.5));
        let on = 0;
        for (let k = Math.max(0, m - reach); k <= Math.min(h - 1, m + reach); k++) on |= hit[k * BINS + b];
        bins += on;
      }
      out[y] = Math.max(out[y], bins / BINS);
    }
  }
  return out;
}

function fullestMarks(
  marks: readonly Patch[],
  w: number,
  h: number,
  from: number,
  to = 1,
): { bins: number; span: number } {
  let bins = 0;
  let span = 0;
  const some = marks.filter((m) => m.cy >= from * h && m.cy < to * h);
  for (const pivot of some) {
    const row = some.filter((m) => Math.abs(m.cy - pivot.cy) < 0.02 * h);
    bins = Math.max(bins, new Set(row.map((m) => Math.floor((m.cx * BINS) / w))).size);
    const sixths = new Set(row.map((m) => Math.floor((m.cx * 6) / w))).size;
    span = Math.max(span, sixths / 6);
  }
  return { bins, span };
}

function columnProfile(blobs: Float32Array, w: number, h: number, from: number, to: number): Float32Array {
  const out = new Float32Array(w);
  for (let y = Math.round(from * h); y < to * h; y++)
    for (let x = 0; x < w; x++) out[x] += Math.min(20, Math.max(0, blobs[y * w + x] - SPOT));
  return out;
}

function rowProfile(blobs: Float32Array, w: number, h: number): Float32Array {
  const out = new Float32Array(h);
  for (let y = 0; y < h; y++) for (let x = 0; x < w; x++) out[y] += Math.min(20, Math.max(0, blobs[y * w + x] - SPOT));
  return out;
}

/** Number of separate peaks in a profile, as a root over ten. */
function peaky(profile: Float32Array): number {
  let top = 0;
  for (const v of profile) top = Math.max(top, v);
  if (top <= 0) return 0;
  let peaks = 0;
  let low = 0;
  let high = 0;
  let rising = true;
  for (const v of profile) {
    if (rising) {
      high = Math.max(high, v);
      if (v < 0.6 * high && high > 0.12 * top) {
        peaks++;
        rising = false;
        low = v;
      }
    } else {
      low = Math.min(low, v);
      if (v > low + 0.08 * top && v > 1.6 * low) {
        rising = true;
        high = v;
      }
    }
  }
  return Math.sqrt(peaks) / 4;
}

/** How much better the spots' column profile stands at the marks' places than elsewhere: correlation. */
function alignment(marks: readonly Patch[], lanes: Float32Array, w: number): number {
  if (marks.length < 2) return 0;
  let mean = 0;
  let sq = 0;
  for (const v of lanes) mean += Math.sqrt(v) / w;
  for (const v of lanes) sq += (Math.sqrt(v) - mean) ** 2 / w;
  if (sq <= 0) return 0;
  let s = 0;
  for (const m of marks) {
    let best = 0;
    for (let x = Math.max(0, Math.round(m.cx) - 2); x <= Math.min(w - 1, Math.round(m.cx) + 2); x++)
      best += Math.sqrt(lanes[x]) / 5;
    s += (best - mean) / Math.sqrt(sq);
  }
  return s / marks.length / 2;
}

function bandAt(shade: Float32Array, w: number, h: number, from: number, to: number): number {
  let best = 0;
  for (let y = Math.round(from * h); y < Math.round(to * h); y++) {
    let dark = 0;
    for (let x = 0; x < w; x++) if (shade[y * w + x] > 0.8) dark++;
    best = Math.max(best, dark / w);
  }
  return best;
}

/** Along-lane minus across-lane length of soft edges: gradients across spots that are longer along the lane point sideways. */
function tallness(blobs: Float32Array, w: number, h: number): number {
  let gx = 0;
  let gy = 0;
  for (let y = Math.round(0.2 * h); y < 0.8 * h; y++) {
    for (let x = 2; x < w - 2; x++) {
      const i = y * w + x;
      if (blobs[i] < SPOT) continue;
      gx += Math.abs(blobs[i + 1] - blobs[i - 1]);
      gy += Math.abs(blobs[i + w] - blobs[i - w]);
    }
  }
  return gx + gy > 0 ? Math.log((gx + 1) / (gy + 1)) : 0;
}

const TEETH = 48;

/** Most upright strokes side by side at one height (ticks, crosses, figures), as a root over their usual number. */
function comb(strokes: Float32Array, w: number, h: number, from: number, to: number): number {
  const least = Math.max(3, 0.014 * h);
  const most = 0.08 * h;
  const y0 = Math.round(from * h);
  const y1 = Math.round(to * h);
  const on = new Uint8Array(TEETH * h);
  for (let x = 0; x < w; x++) {
    const bin = Math.floor((x * TEETH) / w);
    let start = -1;
    for (let y = y0; y <= y1; y++) {
      const set = y < y1 && strokes[y * w + x] > 3.5;
      if (set && start < 0) start = y;
      if (!set && start >= 0) {
        const run = y - start;
        if (run >= least && run <= most) for (let k = start; k < y; k++) on[k * TEETH + bin] = 1;
        start = -1;
      }
    }
  }
  let best = 0;
  for (const tilt of [-0.03, -0.015, 0, 0.015, 0.03]) {
    for (let y = y0; y < y1; y++) {
      let teeth = 0;
      let was = 0;
      for (let b = 0; b < TEETH; b++) {
        const k = y + Math.round(tilt * h * (b / (TEETH - 1) - 0.5));
        const is = k >= y0 && k < y1 ? on[k * TEETH + b] : 0;
        if (is && !was) teeth++;
        was = is;
      }
      best = Math.max(best, teeth);
    }
  }
  return Math.sqrt(best) / 3;
}

/** Third moment of the climb down the plate: spots rise sharply at their head and fall off slowly towards the origin. */
function tailing(blobs: Float32Array, w: number, h: number): number {
  let cube = 0;
  let size = 0;
  for (let y = Math.round(0.1 * h); y < 0.9 * h; y++) {
    for (let x = 2; x < w - 2; x++) {
      const i = y * w + x;
      if (blobs[i] < SPOT) continue;
      const g = Math.min(30, blobs[i + 2 * w]) - Math.min(30, blobs[i - 2 * w]);
      cube += g * g * g;
      size += Math.abs(g * g * g);
    }
  }
  return size > 0 ? cube / (size + 50) : 0;
}

/** Where the middle of the spots lies: 1 at the foot, 0 at the head. */
function topmost(blobs: Float32Array, w: number, h: number): number {
  const rows = rowProfile(blobs, w, h);
  let s = 0;
  let sy = 0;
  for (let y = Math.round(0.1 * h); y < 0.9 * h; y++) {
    s += rows[y];
    sy += (rows[y] * y) / h;
  }
  return s > 0 ? sy / s : 0.5;
}
