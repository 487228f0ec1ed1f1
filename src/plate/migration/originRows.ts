import { figureCentres } from "../figures.ts";
import type { MarkRow, SignalMap } from "../view.ts";
import { CUSTOM_ORIGIN, originPrior } from "./custom.ts";
import type { Evidence, Look } from "./evidence.ts";
import { figureOdds, slenderShare } from "./figureLike.ts";
import { standsOverFigures, UNDER } from "./overFigures.ts";

/** The row that may be the origin, and the next full one below it. */
interface Rows {
  readonly row: MarkRow;
  readonly next?: MarkRow;
  /** True where the upper is made of ticks or stands over the figures of another: no row of spots. */
  readonly plain: boolean;
  /** True where the upper stands over the figures of another. */
  readonly stands: boolean;
}

/** Blurred marks are easily taken for something else. */
const BROAD = 0.8;
/** What else is known to be the origin, with figures below it, makes a row there count so much. */
const FIGURES_THEN = 0.5;
/** And marks that stand over figures, which chance seldom does, count so much more. */
const OVER_FIGURES = 1.3;
const SAME = 0.006;
/** Weaker marks than this, few or far from where an origin is, are worse than its customary place. */
const LEAST = 0.4;

/**
 * Origin marks without a line, as the sharp look of each photo shows them and as the broad one does.
 * @param marks rows of pencil marks, one list per photo
 * @param drawn lines and marks at the edges that may be the origin: a row below a plain one is figures
 */
export function rowLooks(
  maps: readonly SignalMap[],
  marks: readonly (readonly MarkRow[])[],
  drawn: readonly Evidence[],
): Look[] {
  const { height } = maps[0];
  const seen = maps.map((map, k) => ({
    sharp: highestRow(
      marks[k].filter((row) => !row.broad),
      map,
    ),
    broad: highestRow(
      marks[k].filter((row) => row.broad),
      map,
    ),
  }));
  return seen.flatMap(({ sharp, broad }, k) => {
    // What other photos show: marks over figures there are marks over figures here.
    const others = seen.flatMap((o, i) => (i === k ? [] : [o.sharp, o.broad])).filter((o) => o?.plain && !o.row.broad);
    const isFigures = (row: MarkRow, other: Rows | null) =>
      isBelow(row, other, height) ||
      others.some((o) => isBelow(row, o, height)) ||
      drawn.some((line) => standsOver(line, row, height));
    const look = ({ row, next, plain, stands }: Rows, other: Rows | null, trust: number) => {
      const believed = (one: MarkRow) => (isFigures(one, other) ? FIGURES_THEN : 1) * trust;
      const first = rowEvidence(row, height, believed(row) * (stands ? OVER_FIGURES : 1));
      // The upper one may be a row of spots: the next is the origin then, as far as it does not look like figures.
      const offered = plain ? undefined : next;
      const looks = offered ? 1 - figureOdds(offered, maps[0].width, height) : 0;
      const second = offered ? rowEvidence(offered, height, believed(offered) * looks) : null;
      return [first, second].filter((e) => e !== null);
    };
    return [sharp ? look(sharp, broad, 1) : [], broad ? look(broad, sharp, BROAD) : []];
  });
}

/** Where another look shows two rows, a row between them or on the lower one is figures, or marks and figures run together. */
function isBelow({ y }: MarkRow, other: Rows | null, height: number): boolean {
  return other?.next !== undefined && y > other.row.y + SAME * height && y < other.next.y + SAME * height;
}

/** A line plain enough to be drawn, as far above a row as figures are written under it. */
function standsOver({ curve, weight }: Evidence, row: MarkRow, height: number): boolean {
  const above = (row.y - curve.y) / height;
  return weight > DRAWN * originPrior(curve.y / height) && above > UNDER.least && above < UNDER.most;
}

/** Mean response of a plain line, in noise widths clamped to 3. */
const DRAWN = 2;

function rowEvidence(row: MarkRow, height: number, trust: number): Evidence | null {
  const enough = Math.min(1, row.marks.length / 5);
  const weight = 1.6 * trust * enough * originPrior(row.y / height);
  return weight > LEAST ? { curve: { y: row.y, tilt: row.tilt, bow: 0 }, rms: 0.006 * height, weight } : null;
}

/**
 * Of several full rows the highest is the origin and what stands below it are figures, unless it stands too far above
 * them; a row that stands alone and looks like figures is none.
 */
function highestRow(rows: readonly MarkRow[], { width, height }: SignalMap): Rows | null {
  const full = fullRows(rows, width);
  // Broad rows may be spots, which stand over figures and over ticks as well.
  const over = (row: MarkRow) =>
    !row.broad && full.some((lower) => lower !== row && !ticks(lower) && standsOverFigures(row, lower, width, height));
  const list = rows.filter((row) => full.includes(row) || over(row)).sort((a, b) => a.y - b.y);
  const prior = (row: MarkRow) => originPrior(row.y / height);
  // Figures are not written quite level: those that stand a little higher are no row of their own.
  const sameRow = (row: MarkRow, lower: MarkRow) =>
    lower.y - row.y < UNDER.least * height && row.marks.length < lower.marks.length;
  const tooHigh = (row: MarkRow, lower: MarkRow) =>
    lower.y - row.y > APART * height &&
    prior(lower) > prior(row) &&
    !(ticks(row) && lower.y - row.y < UNDER.most * height);
  while (list.length > 1 && !over(list[0]) && (tooHigh(list[0], list[1]) || sameRow(list[0], list[1]))) list.shift();
  const [row, next] = list;
  if (!row || (!next && loneFigures(row, width, height))) return null;
  const stands = over(row);
  return { row, next, plain: ticks(row) || stands, stands };
}

/** Ticks in most places. */
function ticks(row: MarkRow): boolean {
  const share = slenderShare(row);
  return !row.broad && share > 0.6 && share * row.marks.length >= 3;
}

/** Figures stand nearer to their marks than this, as a share of the height. */
const APART = 0.1;

/** A sharp row so probably of figures has no marks above it that show; a blurred one, which tells less, only so low down. */
const LONE_FIGURES = { odds: 0.92, low: 0.92 };

function loneFigures(row: MarkRow, width: number, height: number): boolean {
  return row.broad ? row.y > LONE_FIGURES.low * height : figureOdds(row, width, height) > LONE_FIGURES.odds;
}

/** Share of the fullest row's signs, and of the most marks, that a row must have to count. */
const FULL = { signs: 0.45, marks: 0.4 };

/** Beside a row of so many marks two unlike ones are specks. */
const SPECKS = 4;

/** Rows that mark a good part of the lanes, the highest first. */
function fullRows(rows: readonly MarkRow[], width: number): MarkRow[] {
  const signs = rows.map((row) => figureCentres(row, width).length);
  const most = Math.max(...signs);
  const marks = Math.max(...rows.map((row) => row.marks.length));
  const full = rows.filter(
    (row, k) =>
      signs[k] >= FULL.signs * most &&
      row.marks.length >= FULL.marks * marks &&
      (row.alike || row.marks.length > 2 || marks < SPECKS),
  );
  return full.sort((a, b) => a.y - b.y);
}

/** Figures stand about this far below an origin that nobody drew, as a share of the height (common practice, no source). */
const FIGURES = { below: 0.047, sd: 0.035 };

/** Where the origin is taken to be if nothing shows it: a little above the lanes' figures, or where people leave it. */
export function assumedOrigin(
  maps: readonly SignalMap[],
  marks: readonly (readonly MarkRow[])[],
): { y: number; sd: number } {
  for (const [k, { width, height }] of maps.entries()) {
    const figures = fullRows(marks[k], width).find(
      (row) => figureCentres(row, width).length >= 3 && row.y > FIGURES_FROM * height,
    );
    if (figures) return { y: figures.y / height - FIGURES.below, sd: FIGURES.sd };
  }
  return CUSTOM_ORIGIN;
}

const FIGURES_FROM = 0.85;
