import { upperMedian } from "../../math/median.ts";
import type { Patch } from "../../raster/components.ts";
import type { Plane } from "../../raster/picture.ts";
import { figureCentres } from "../figures.ts";
import type { MarkRow } from "../view.ts";
import { rowsOfMarks, strongest } from "./rows.ts";

/** A dot's or a tick's breadth at most, and its height at least, as shares of the plate's longer side. */
const BREADTH = 0.024;
const LEAST = 0.009;
/** A figure and the mark below it together are no higher and no wider, as a share of the longer side. */
const TALL = 0.13;
/** A tick is no longer, as a share of the longer side: what is has a figure's stem upon it. */
const TICK = 0.055;
/** What stands upon a mark is so many times as wide. */
const WIDER = 1.2;
/** Round a bold mark, sharpening and compression leave what is no pencil, weaker than this share of it. */
const HALO = 0.2;
/** Lower ends lie so far off one level, as a share of the height. */
const LEVEL = 0.008;
/** A row has so many marks, so many of them stand under figures, and there are so many to a figure. */
const ROW = { marks: 3, under: 0.6, least: 0.7, most: 1.2 };
/** A figure stands no farther than this over its mark, as a share of the height, and no farther beside it, as one of the width. */
const APART = 0.03;
const OVER = 0.01;
/** Figures reach so far up from their marks' lower ends, as a share of the height. */
const FIGURES = 0.1;
/** Figures differ in width or in area by so much (standard deviation over mean), the heads of crosses and arrows do not. */
const UNLIKE = { width: 0.06, area: 0.12 };

interface Foot extends Patch {
  /** What it is a part of, or a figure above it; null: it stands alone. */
  readonly under: Patch | null;
  /** Nothing touches it. */
  readonly whole: boolean;
}

/**
 * Dots or ticks that mark the lanes' origins right below the lanes' figures, touching them or not: the lower ends of the marks.
 * @param patches strokes of the lower part of a plate; those that are crosses left out
 * @param strokes of that part
 * @param height of the whole plate in pixels
 */
export function feetUnderFigures(patches: readonly Patch[], strokes: Plane, faint: number, height: number): MarkRow[] {
  const { width } = strokes;
  const longer = Math.max(width, height);
  const fits = patches.filter(({ x0, x1, y0, y1 }) => Math.max(x1 - x0, y1 - y0) < TALL * longer);
  const high = fits.filter((p) => p.y1 - p.y0 > LEAST * longer && p.y1 < strokes.height - LEAST * height);
  const ended = high.map((patch) => ({ patch, foot: footOf(patch, strokes, faint, longer) }));
  const figures = ended.flatMap(({ patch, foot }) => (foot?.whole ? [] : [patch]));
  const standing = ended
    .flatMap(({ foot }) => foot ?? [])
    .map((f) => (f.under ? f : { ...f, under: overIt(f, figures, width, height) }));
  const ends = standing.map((f) => ({ ...f, y0: f.y1 - 1 }));
  return rowsOfMarks(ends, width, height, LEVEL * height).flatMap((row) => {
    const marks = row.marks.map((m) => standing[ends.indexOf(m as (typeof ends)[number])]);
    const under = marks.flatMap((m) => m.under ?? []);
    if (marks.length < ROW.marks || under.length < ROW.under * marks.length) return [];
    if (spread(under.map((p) => p.x1 - p.x0)) < UNLIKE.width && spread(under.map((p) => p.area)) < UNLIKE.area)
      return [];
    // Of two digits in one figure one stands upon the mark, and hardly a figure has none.
    const lowest = Math.max(...marks.map((m) => m.y1));
    const beside = figures.filter((p) => p.y1 > lowest - FIGURES * height && p.y0 < lowest);
    const signs = figureCentres({ ...row, marks: [...marks, ...beside] }, width).length;
    if (marks.length < ROW.least * signs || marks.length > ROW.most * signs) return [];
    const heights = marks.map((m) => m.y1 - m.y0);
    const own = heights.filter((h) => h < TICK * longer);
    const long = upperMedian(own.length > 0 ? own : heights);
    return [{ ...row, y: row.y + 0.5 - long / 2, size: long, marks: marks.map((m) => ({ ...m, y0: m.y1 - long })) }];
  });
}

/** The lowest rows of a patch, as many as are no broader than a dot or a tick; null: it ends broader than that. */
function footOf(patch: Patch, { width, data }: Plane, faint: number, longer: number): Foot | null {
  const drawn = Math.max(faint, HALO * strongest({ width, data, height: 0 }, patch));
  let [x0, x1, top, bottom] = [patch.x1, patch.x0, -1, patch.y1];
  for (let y = patch.y1 - 1; y >= patch.y0; y--) {
    let [from, to] = [patch.x0, patch.x1];
    while (from < to && data[y * width + from] <= drawn) from++;
    while (from < to && data[y * width + to - 1] <= drawn) to--;
    if (from === to) {
      if (top < 0) bottom = y;
      continue;
    }
    if (Math.max(x1, to) - Math.min(x0, from) > BREADTH * longer) break;
    [x0, x1, top] = [Math.min(x0, from), Math.max(x1, to), y];
  }
  if (top < 0 || bottom - top < LEAST * longer) return null;
  const whole = top - patch.y0 < (LEAST * longer) / 2;
  if (!whole && patch.x1 - patch.x0 < WIDER * (x1 - x0)) return null;
  const part = { ...patch, x0, x1, y0: top, y1: bottom, cx: (x0 + x1) / 2, cy: (top + bottom) / 2 };
  return { ...part, under: whole ? null : patch, whole };
}

/** A figure right above a mark that touches none; null: none is. */
function overIt(foot: Patch, figures: readonly Patch[], width: number, height: number): Patch | null {
  const over = figures.filter(
    (p) =>
      p.y1 <= foot.y0 + (LEAST * height) / 2 &&
      foot.y0 - p.y1 < APART * height &&
      foot.cx > p.x0 - OVER * width &&
      foot.cx < p.x1 + OVER * width,
  );
  return over[0] ?? null;
}

/** Standard deviation over mean. */
function spread(values: readonly number[]): number {
  const mean = values.reduce((a, b) => a + b, 0) / values.length;
  return Math.sqrt(values.reduce((s, v) => s + (v - mean) ** 2, 0) / values.length) / mean;
}
