import type { Patch } from "../../raster/components.ts";
import { countPeaks, rowFill, teethBetween } from "./rows.ts";
import type { Signs } from "./signs.ts";

/** What speaks for a plate standing front up; each number lies between about 0 and 1. */
export interface Evidence {
  /** Share of the width that the fullest row of strokes near the foot takes up: the origin. */
  readonly originRow: number;
  /** Share of the width that the fullest row of small marks near the foot takes up. */
  readonly originMarks: number;
  /** Ticks, crosses or figures near the foot beyond those in the middle, as a root over their usual number. */
  readonly teethFoot: number;
  /** The same near the head, all counted: a note at most. */
  readonly teethHead: number;
  /** Peaks of the spots' profile across the plate over those along it: lanes are many, substances few. */
  readonly lanes: number;
  /** Small marks in the middle, where there should be none. */
  readonly marksMiddle: number;
  /** Small marks at the left and right edges. */
  readonly marksSide: number;
  /** Share of the spots below the origin. */
  readonly belowOrigin: number;
  /** Share of the width that a dark band near the head takes up: the front. */
  readonly frontBand: number;
  /** Spots rise sharply at their head and fade towards the origin: 1 all do, -1 the other way. */
  readonly tailing: number;
}

const ORIGIN = [0.74, 0.965] as const;
const SPOT = 4;
const BOLD = 20;

/** Looks at a plate as if it stood front up. */
export function evidenceOf(signs: Signs): Evidence {
  const { width: w, height: h, strokes, spots, shade, marks } = signs;
  const { columns, rows } = spotProfiles(spots, w, h);
  const marksIn = (has: (m: Patch) => boolean) => Math.log1p(marks.filter(has).length) / 3;
  const foot = teethBetween(strokes, w, h, 0.78, 0.95);
  const middle = teethBetween(strokes, w, h, 0.3, 0.7);
  return {
    originRow: highest(rowFill(strokes, w, h), ORIGIN),
    originMarks: fullestRow(
      marks.filter((m) => m.cy > 0.72 * h),
      w,
      h,
    ),
    teethFoot: Math.max(0, Math.sqrt(foot) - Math.sqrt(middle)) / 3,
    teethHead: Math.sqrt(teethBetween(strokes, w, h, 0.025, 0.26)) / 3,
    lanes: (Math.sqrt(countPeaks(columns)) - Math.sqrt(countPeaks(part(rows, 0.12, 0.88)))) / 4,
    marksMiddle: marksIn((m) => m.cy >= 0.3 * h && m.cy < 0.7 * h),
    marksSide: marksIn((m) => m.cx < 0.12 * w || m.cx > 0.88 * w),
    belowOrigin: total(part(rows, 0.9, 1)) / (total(rows) + 1e-6),
    frontBand: darkBand(shade, w, h, 0.03, 0.24),
    tailing: tailing(spots, w, h),
  };
}

function part(profile: Float32Array, from: number, to: number): Float32Array {
  return profile.subarray(Math.round(from * profile.length), Math.round(to * profile.length));
}

function total(profile: Float32Array): number {
  return profile.reduce((sum, v) => sum + v, 0);
}

function highest(profile: Float32Array, [from, to]: readonly [number, number]): number {
  return part(profile, from, to).reduce((most, v) => Math.max(most, v), 0);
}

/** Share of the width, in 24 steps, that marks at one height take up. */
function fullestRow(marks: readonly Patch[], w: number, h: number): number {
  let most = 0;
  for (const pivot of marks) {
    const row = marks.filter((m) => Math.abs(m.cy - pivot.cy) < 0.02 * h);
    most = Math.max(most, new Set(row.map((m) => Math.floor((m.cx * 24) / w))).size / 24);
  }
  return most;
}

/** Spots summed up across the plate (the middle rows alone) and along it. */
function spotProfiles(spots: Float32Array, w: number, h: number): { columns: Float32Array; rows: Float32Array } {
  const columns = new Float32Array(w);
  const rows = new Float32Array(h);
  for (let y = 0, i = 0; y < h; y++) {
    const middle = y >= 0.2 * h && y < 0.8 * h;
    for (let x = 0; x < w; x++, i++) {
      if (spots[i] <= SPOT) continue;
      const v = Math.min(BOLD, spots[i] - SPOT);
      rows[y] += v;
      if (middle) columns[x] += v;
    }
  }
  return { columns, rows };
}

function darkBand(shade: Float32Array, w: number, h: number, from: number, to: number): number {
  let most = 0;
  for (let y = Math.round(from * h); y < Math.round(to * h); y++) {
    let dark = 0;
    for (let x = 0, i = y * w; x < w; x++, i++) if (shade[i] > 0.8) dark++;
    most = Math.max(most, dark / w);
  }
  return most;
}

/** Third moment of the spots' slope down the plate over its size. */
function tailing(spots: Float32Array, w: number, h: number): number {
  let cube = 0;
  let size = 50;
  for (let y = Math.round(0.1 * h); y < 0.9 * h; y++) {
    for (let x = 0, i = y * w; x < w; x++, i++) {
      if (spots[i] < SPOT) continue;
      const slope = Math.min(30, spots[i + 2 * w]) - Math.min(30, spots[i - 2 * w]);
      cube += slope ** 3;
      size += Math.abs(slope ** 3);
    }
  }
  return cube / size;
}
