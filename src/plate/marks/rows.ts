import { upperMedian } from "../../math/median.ts";
import { aroundBoth, connectedPatches, maskAbove, type Patch } from "../../raster/components.ts";
import type { Plane } from "../../raster/picture.ts";
import type { MarkRow } from "../view.ts";

/** Share of the plate's height below which origin marks and lane labels stand. */
export const FROM = 0.62;
/** A mark holds at least one pixel this many noise widths strong. */
export const CLEAR = 9;

const EDGE = 0.012;
const LEAST_AREA = 7;

/** Marks lower than this share of the plate's longer side are dots or bits of ticks, however unlike: no figure is so small. */
const DOT = 0.022;
/** One hand presses about evenly: a mark much fainter than the clear ones is grain. */
const FAINTEST = 0.3;

/**
 * Thin marks in the lower part of a plate that are no longer than a figure or a tick.
 * @param clear a mark holds at least one pixel as strong as this
 * @param leastArea pixels that a mark holds
 * @param height of the whole plate in pixels, where `strokes` is its lower part
 */
export function smallMarks(
  strokes: Plane,
  fromRow: number,
  clear: number,
  { leastArea = LEAST_AREA, height = strokes.height }: { leastArea?: number; height?: number } = {},
): Patch[] {
  const { width } = strokes;
  const mask = maskAbove(strokes.data.subarray(fromRow * width), 0.4 * clear);
  const longest = 0.16 * width;
  const marks = connectedPatches(mask, width, strokes.height - fromRow, leastArea)
    .map((patch) => lowered(patch, fromRow))
    .filter((p) => {
      const w = p.x1 - p.x0;
      const h = p.y1 - p.y0;
      const inside = p.x0 > EDGE * width && p.x1 < (1 - EDGE) * width && p.y1 < strokes.height - EDGE * height;
      return inside && w < longest && h < 0.09 * height && Math.max(w, h) > 0.01 * Math.max(width, height);
    })
    .map((patch) => ({ patch, strength: strongest(strokes, patch) }))
    .sort((a, b) => b.strength - a.strength);
  const reference = marks[Math.min(2, marks.length - 1)]?.strength ?? 0;
  const least = Math.max(clear, FAINTEST * reference);
  return mended(
    marks.filter((m) => m.strength > least).map((m) => m.patch),
    width,
    height,
  );
}

/** A patch of a plate's lower part, which begins at a row of it, as it lies on the plate. */
export function lowered(patch: Patch, row: number): Patch {
  return { ...patch, y0: patch.y0 + row, y1: patch.y1 + row, cy: patch.cy + row };
}

/** An upright stroke is no broader than this share of its length: a cross that stands over a figure is no part of one. */
const SLENDER = 0.24;

/** Pieces of an upright stroke that a spot hides in the middle, put together: one above the other, close, both narrow. */
function mended(marks: readonly Patch[], width: number, height: number): Patch[] {
  const whole: Patch[] = [];
  for (const m of [...marks].sort((a, b) => a.y0 - b.y0)) {
    const above = whole.findIndex(
      (o) =>
        Math.abs(centre(o) - centre(m)) < 0.012 * width &&
        m.y0 - o.y1 >= 0 &&
        m.y0 - o.y1 < 0.02 * height &&
        Math.max(o.x1 - o.x0, m.x1 - m.x0) < Math.min(0.025 * width, SLENDER * (m.y1 - o.y0)) &&
        m.y1 - o.y0 < 0.08 * height,
    );
    if (above < 0) {
      whole.push(m);
      continue;
    }
    whole[above] = aroundBoth(whole[above], m);
  }
  return whole;
}

/** The highest of a patch's box. */
export function strongest(strokes: Plane, p: Patch): number {
  let top = 0;
  for (let y = p.y0; y < p.y1; y++)
    for (let x = p.x0; x < p.x1; x++) top = Math.max(top, strokes.data[y * strokes.width + x]);
  return top;
}

/** How far a mark may lie off its row, as a share of the height. */
const LEVEL = 0.007;

/**
 * Rows of marks that stand at one height, the fullest first; no mark is used twice. A row has at least three marks,
 * or two at both edges of the plate, or two ticks well apart.
 */
export function rowsOfMarks(
  marks: readonly Patch[],
  width: number,
  height: number,
  tolerance = LEVEL * height,
): MarkRow[] {
  const rows: MarkRow[] = [];
  let left = [...marks];
  for (let round = 0; round < 4 && left.length > 1; round++) {
    const row = fullestRow(left, width, height, Math.max(1.5, tolerance));
    if (!row) break;
    rows.push(row);
    const used = new Set(row.marks);
    left = left.filter((m) => !used.has(m));
  }
  return rows;
}

/** How far a row rises over the plate's width, at most: a slip of the hand on a tall plate, a crooked line on a wide one. */
const TILT = { ofHeight: 0.036, ofWidth: 0.07 };
const TILT_STEP = 0.006;

const middle = (m: Patch) => (m.y0 + m.y1) / 2;
const centre = (m: Patch) => (m.x0 + m.x1) / 2;

function fullestRow(marks: readonly Patch[], width: number, height: number, tolerance: number): MarkRow | null {
  let best: { members: Patch[]; score: number; tilt: number } | null = null;
  const most = Math.ceil(Math.max(TILT.ofHeight * height, TILT.ofWidth * width) / (TILT_STEP * height));
  for (let t = -most; t <= most; t++) {
    const tilt = t * TILT_STEP * height;
    const level = (m: Patch) => middle(m) - tilt * (centre(m) / width - 0.5);
    const levels = Float64Array.from(marks, level);
    for (const [p, pivot] of marks.entries()) {
      if (best && countNear(levels, levels[p], tolerance) - 0.03 * Math.abs(t) <= best.score) continue;
      const members = marks.filter((_, i) => Math.abs(levels[i] - levels[p]) < tolerance);
      const columns = new Set(members.map((m) => Math.round(centre(m) / (0.03 * width)))).size;
      const scatter = members.reduce((s, m) => s + Math.abs(level(m) - level(pivot)), 0) / members.length / tolerance;
      const score = columns - 0.5 * scatter - 0.03 * Math.abs(t);
      if (!best || score > best.score) best = { members, score, tilt };
    }
  }
  if (!best) return null;
  const { members, tilt } = best;
  const edges = members.some((m) => centre(m) < 0.14 * width) && members.some((m) => centre(m) > 0.86 * width);
  if (members.length < 3 && !(members.length === 2 && (edges || twoTicks(members[0], members[1], width)))) return null;
  const levels = members.map((m) => middle(m) - tilt * (centre(m) / width - 0.5)).sort((a, b) => a - b);
  const heights = members.map((m) => m.y1 - m.y0);
  const widths = members.map((m) => m.x1 - m.x0);
  return {
    marks: members,
    y: levels[levels.length >> 1],
    tilt,
    size: mean(heights),
    alike: (spread(heights) < 0.28 && spread(widths) < 0.38) || upperMedian(heights) < DOT * Math.max(width, height),
  };
}

function countNear(levels: Float64Array, level: number, tolerance: number): number {
  let count = 0;
  for (let i = 0; i < levels.length; i++) if (Math.abs(levels[i] - level) < tolerance) count++;
  return count;
}

/** Upright strokes of one height: the third tick of a small plate may be under a spot or a scratch. */
function twoTicks(a: Patch, b: Patch, width: number): boolean {
  const tall = (m: Patch) => m.y1 - m.y0 > 1.8 * (m.x1 - m.x0);
  const ratio = (a.y1 - a.y0) / (b.y1 - b.y0);
  return tall(a) && tall(b) && ratio > 0.74 && ratio < 1.35 && Math.abs(centre(a) - centre(b)) > 0.25 * width;
}

function mean(values: readonly number[]): number {
  return values.reduce((a, b) => a + b, 0) / values.length;
}

/** Standard deviation over mean. */
function spread(values: readonly number[]): number {
  const m = mean(values);
  return Math.sqrt(mean(values.map((v) => (v - m) ** 2))) / m;
}
