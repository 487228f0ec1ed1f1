import { figureCentres } from "../figures.ts";
import type { MarkRow, SignalMap } from "../view.ts";
import type { Contrasts } from "./columnContrast.ts";
import type { RowCurve } from "./curves.ts";
import { figureOdds } from "./figureLike.ts";

/** A row of marks too faint to show one by one, that stand over the signs of a row of figures. */
export interface ColumnMarks extends RowCurve {
  /** Mean over the columns of what stands out there, in noise widths, each clamped. */
  readonly clear: number;
  /** How many columns were looked at. */
  readonly count: number;
  /** How much of it is left against the layer close by: 1 for a thin mark, less for a spot. */
  readonly narrow: number;
}

/** How far above the tops of the figures, as shares of the height. */
const ABOVE = { least: 0.008, most: 0.135 };
/** Response of a column, in noise widths, is clamped to these, and counts little beyond: a spot or a scratch outvotes nobody. */
const CLAMP = { low: -1.5, high: 4 };
const BEYOND = { share: 0.05, most: 8 };
/** Tilts against the row of figures that are tried, in hundredths of the height, and what each takes off. */
const TILTS = 4;
const CROOKED = 0.03;
/** Signs of a row that make columns, and where figures begin. */
const LEAST_SIGNS = 3;
const FIGURES_FROM = 0.78;
/** Share of the fullest row's signs that a row must have. */
const FULL = 0.6;
/** Rows so many times taller than a fuller one say nothing of where its figures end. */
const TALLER = 2.5;
/** Rows of figures that are looked above, and marks told of each. */
const MOST_ROWS = 3;
const MOST = 2;
const APART = 0.03;
/** Rows beside the clearest one that belong to it have more than this share of its response. */
const WITHIN = 0.7;

/** Figures of the lanes, of whichever photo shows most of them. */
export interface Figures {
  /** Middles of the figures, in pixels from the left. */
  readonly centres: readonly number[];
  /** Row above which none of them reaches, at the plate's middle, and their rise over the width. */
  readonly top: number;
  readonly tilt: number;
  /** Probability that they are figures and no origin marks. */
  readonly odds: number;
}

/** Rows that may be figures and say then where the lanes are; rows that overlap are one. */
export function figureRows(
  marks: readonly (readonly MarkRow[])[],
  { width, height }: Pick<SignalMap, "width" | "height">,
): Figures[] {
  const signs = (row: MarkRow) => figureCentres(row, width).length;
  const rows = marks.flat().filter((row) => row.y > FIGURES_FROM * height && signs(row) >= LEAST_SIGNS);
  let kept: MarkRow[][] = [];
  for (const row of rows.sort((a, b) => signs(b) - signs(a))) {
    if (signs(row) < FULL * signs(rows[0])) break;
    const same = kept.filter((all) => all.some((one) => Math.abs(one.y - row.y) < (one.size + row.size) / 2));
    // A taller one is marks and figures run together.
    if (same.some(([first]) => row.size > TALLER * first.size)) continue;
    kept = [...kept.filter((all) => !same.includes(all)), [...same.flat(), row]];
  }
  return kept.slice(0, MOST_ROWS).map((same) => {
    const odds = same.map((row) => figureOdds(row, width, height));
    return {
      centres: figureCentres(same[0], width),
      top: Math.min(...same.map((row) => row.y - row.size / 2)),
      tilt: same[0].tilt,
      odds: odds.reduce((a, b) => a + b, 0) / odds.length,
    };
  });
}

/** The rows over some figures that are looked at; too few where they stand too high. */
export function rowsOver({ top }: Figures, height: number): { from: number; to: number } {
  return { from: Math.max(0, Math.round(top - ABOVE.most * height)), to: Math.round(top - ABOVE.least * height) };
}

/**
 * The rows of small marks over the signs of a row of figures, the clearest first: the strongest contrast within each column
 * is averaged over the columns for each height and tilt. What the strongest of as many places is by chance comes from
 * columns all over the plate.
 * @param contrasts of rows that hold those over the figures
 * @param chance what columns all over the plate show of this sign
 * @param sign -1 where marks are brighter than the layer
 */
export function columnMarks(
  { width, height }: Pick<SignalMap, "width" | "height">,
  contrasts: Contrasts,
  { middle, spread }: ReturnType<Contrasts["byChance"]>,
  figures: Figures,
  sign: 1 | -1,
): ColumnMarks[] {
  const { from, to } = rowsOver(figures, height);
  const columns = figures.centres.map((x) => contrasts.column(x, sign));
  // Rows of the columns.
  const first = from - contrasts.from;
  const end = to - contrasts.from;
  const hits: ColumnMarks[] = [];
  const centres = figures.centres.map((x) => x / width - 0.5);
  const nears = columns.map(({ near }) => near);
  const tilts = Array.from({ length: 2 * TILTS + 1 }, (_, i) => {
    const tilt = figures.tilt + 0.01 * (i - TILTS) * height;
    return {
      tilt,
      crooked: CROOKED * Math.abs(i - TILTS),
      shifts: Int32Array.from(centres, (c) => Math.round(tilt * c)),
    };
  });
  for (let k = first + 1; k < end - 1; k++)
    for (const { tilt, crooked, shifts } of tilts) {
      const sum = responses(nears, shifts, k, first + 1, end - 2, middle, spread);
      const clear = sum / columns.length - crooked;
      hits.push({ y: contrasts.from + k + 0.5, tilt, bow: 0, clear, count: columns.length, narrow: 1 });
    }
  hits.sort((a, b) => b.clear - a.clear);
  const best: ColumnMarks[] = [];
  for (const hit of hits) {
    if (best.length >= MOST) break;
    if (best.some((other) => Math.abs(other.y - hit.y) <= APART * height)) continue;
    // A mark is as high as it is: its middle, not its boldest row.
    const near = hits.filter(
      (o) => o.tilt === hit.tilt && Math.abs(o.y - hit.y) <= APART * height && o.clear > WITHIN * hit.clear,
    );
    const weights = near.map((o) => o.clear - WITHIN * hit.clear);
    const total = weights.reduce((a, b) => a + b, 0);
    let [thin, all] = [0, 0];
    columns.forEach((c, i) => {
      const y = Math.round(hit.y - 0.5) - contrasts.from + Math.round(hit.tilt * centres[i]);
      if (y < first + 1 || y > end - 2 || c.near[y] <= 0) return;
      const share = Math.min(1, (8 * spread) / c.near[y]);
      thin += share * c.near[y];
      all += share * Math.max(c.near[y], c.far(y));
    });
    best.push({
      ...hit,
      narrow: all > 0 ? thin / all : 0,
      y: near.reduce((sum, o, i) => sum + (weights[i] / total) * o.y, 0),
    });
  }
  return best;
}

/** Sum of what columns show at one height, each at its own shift; those that it moves out of least..most show nothing. */
function responses(
  nears: readonly Float32Array[],
  shifts: Int32Array,
  k: number,
  least: number,
  most: number,
  middle: number,
  spread: number,
): number {
  let sum = 0;
  for (let i = 0; i < nears.length; i++) {
    const y = k + shifts[i];
    if (y < least || y > most) continue;
    const c = nears[i];
    const z = ((c[y - 1] + 2 * c[y] + c[y + 1]) / 4 - middle) / spread;
    sum += Math.max(CLAMP.low, Math.min(CLAMP.high, z));
    sum += BEYOND.share * Math.max(0, Math.min(BEYOND.most, z - CLAMP.high));
  }
  return sum;
}
