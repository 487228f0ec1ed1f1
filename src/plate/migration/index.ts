import type { MigrationLine } from "../../model/index.ts";
import { figureCentres } from "../figures.ts";
import type { MarkRow, SignalMap } from "../view.ts";
import { ridge, type Stripes, spreadOf, stepDown, stripesOf } from "./blocks.ts";
import { type CurveHit, findCurves, type RowCurve, refineCurve } from "./curves.ts";
import { leadingEdge } from "./edge.ts";

const STRIPES = 40;
const MARGIN = 0.03;

export interface MigrationOptions {
  /** Heights told by the user, as fractions of the plate's height from the top; null: to be found. */
  readonly origin: number | null;
  readonly front: number | null;
}

export interface Migration {
  readonly origin: MigrationLine;
  readonly front: MigrationLine;
}

/** Where people leave the origin and the front when nothing is marked (common practice, no source). */
const CUSTOM = { origin: 0.87, originSd: 0.03, front: 0.1, frontSd: 0.035 };

interface Evidence {
  readonly curve: RowCurve;
  readonly rms: number;
  readonly weight: number;
}

/**
 * Finds origin and solvent front of a plate, all its photos together.
 * @param marks rows of pencil marks, one list per photo
 */
export function findMigration(
  maps: readonly SignalMap[],
  marks: readonly (readonly MarkRow[])[],
  options: MigrationOptions,
): Migration {
  const height = maps[0].height;
  const origins = maps.flatMap((m, k) => {
    const lines = originEvidence(m);
    return [...lines, ...markEvidence(marks[k], m, lines)];
  });
  const fronts = maps.flatMap((m) => frontEvidence(m));
  const custom = customOrigin(marks[0], maps[0]);
  const pick = (list: Evidence[]) => list.sort((a, b) => b.weight - a.weight)[0] ?? null;
  return {
    origin: lineFrom(pick(origins), options.origin, custom.y, custom.sd, height),
    front: lineFrom(pick(fronts), options.front, CUSTOM.front, CUSTOM.frontSd, height),
  };
}

function lineFrom(
  found: Evidence | null,
  given: number | null,
  custom: number,
  sd: number,
  height: number,
): MigrationLine {
  if (given !== null) {
    const bend = found && Math.abs(found.curve.y / height - given) < 0.03 ? found.curve : { tilt: 0, bow: 0 };
    return { y: given, tilt: bend.tilt / height, bow: bend.bow / height, source: "given", sd: 0.003 };
  }
  if (!found) return { y: custom, tilt: 0, bow: 0, source: "assumed", sd };
  const { curve } = found;
  return {
    y: curve.y / height,
    tilt: curve.tilt / height,
    bow: curve.bow / height,
    source: "found",
    sd: Math.max(0.001, Math.min(0.01, found.rms / height / 2)),
  };
}

function steps(limit: number, count: number): number[] {
  return Array.from({ length: count }, (_, i) => ((2 * i) / (count - 1) - 1) * limit);
}

/** A pencil line all across: strokes at one height in most stripes. */
function originEvidence(map: SignalMap): Evidence[] {
  const { height } = map;
  const reach = Math.max(3, Math.round(0.012 * height));
  // A ridge: a row of figures is as high as it is full, a line is thin.
  const z = ridge(stripesOf(map.strokes, STRIPES, MARGIN), reach);
  const noise = Math.max(4 * map.strokeNoise, 0.002);
  const hits = findCurves(
    z,
    noise,
    {
      from: Math.round(0.6 * height),
      to: Math.round(0.98 * height),
      tilts: steps(0.045 * height, 19),
      bows: [0],
      margin: MARGIN,
    },
    reach,
    5,
  );
  return hits
    .filter((h) => h.score > 1.2 && h.steady > 0.5)
    .map((h) => evidenceOf(z, h, reach, noise, false, originPrior(h.y / height)));
}

/**
 * Origin marks without a line, as the sharp look shows them and as the broad one does.
 * @param lines that may be the origin: a row below a plain one is figures
 */
function markEvidence(rows: readonly MarkRow[], map: SignalMap, lines: readonly Evidence[]): Evidence[] {
  const sharp = highestRow(
    rows.filter((row) => !row.broad),
    map,
  );
  const broad = highestRow(
    rows.filter((row) => row.broad),
    map,
  );
  const merged = (one: Rows | null, other: Rows | null) => {
    if (!one || !other?.next) return 1;
    const { y } = one.row;
    return y > other.row.y + SAME * map.height && y < other.next.y + SAME * map.height ? MERGED : 1;
  };
  const drawn = (row: MarkRow) => (lines.some((line) => standsOver(line, row, map)) ? MERGED : 1);
  const lone = broad !== null && !broad.next && broad.row.y > LONE_FIGURES * map.height;
  return [
    ...(sharp ? [rowEvidence(sharp.row, map, drawn(sharp.row) * merged(sharp, broad))] : []),
    ...(broad && !lone ? [rowEvidence(broad.row, map, BROAD * drawn(broad.row) * merged(broad, sharp))] : []),
  ].filter((evidence) => evidence.weight > LEAST);
}

/** A line plain enough to be drawn, as far above a row as figures are written under it. */
function standsOver({ curve, weight }: Evidence, row: MarkRow, { height }: SignalMap): boolean {
  const above = (row.y - curve.y) / height;
  return weight > DRAWN * originPrior(curve.y / height) && above > UNDER.least && above < UNDER.most;
}

/** Mean response of a plain line, in noise widths clamped to 3. */
const DRAWN = 2;
/** How far below the line figures are written, as a share of the height. */
const UNDER = { least: 0.02, most: 0.15 };

/** Blurred marks are easily taken for something else. */
const BROAD = 0.8;
/** Where one look shows two rows, a row of the other between them or on the lower one is figures, or marks and figures run together. */
const MERGED = 0.5;
const SAME = 0.006;
/** Weaker marks than this, few or far from where an origin is, are worse than its customary place. */
const LEAST = 0.4;

/** The row that may be the origin, and the next full one below it. */
interface Rows {
  readonly row: MarkRow;
  readonly next?: MarkRow;
}

function rowEvidence(row: MarkRow, { height }: SignalMap, trust: number): Evidence {
  const enough = Math.min(1, row.marks.length / 5);
  return {
    curve: { y: row.y, tilt: row.tilt, bow: 0 },
    rms: 0.006 * height,
    weight: 1.6 * trust * enough * originPrior(row.y / height),
  };
}

/**
 * Of several full rows the highest is the origin and what stands below it are figures, unless it stands too far above
 * them; a row that stands alone and whose marks are unlike is taken for figures, unless it stands too high for them.
 */
function highestRow(rows: readonly MarkRow[], { width, height }: SignalMap): { row: MarkRow; next?: MarkRow } | null {
  const full = fullRows(rows, width);
  const prior = (row: MarkRow) => originPrior(row.y / height);
  while (full.length > 1 && full[1].y - full[0].y > APART * height && prior(full[1]) > prior(full[0])) full.shift();
  const [row, next] = full;
  if (!row || (full.length === 1 && !row.alike && row.y > LONE_FIGURES * height)) return null;
  return { row, next };
}

/** Figures stand nearer to their marks than this, as a share of the height. */
const APART = 0.1;

/** Figures without marks above them stand lower than this, as a share of the height. */
const LONE_FIGURES = 0.92;

/** Share of the fullest row's signs, and of the most marks, that a row must have to count. */
const FULL = { signs: 0.45, marks: 0.4 };

/** Rows that mark a good part of the lanes, the highest first. */
function fullRows(rows: readonly MarkRow[], width: number): MarkRow[] {
  const signs = rows.map((row) => figureCentres(row, width).length);
  const most = Math.max(...signs);
  const marks = Math.max(...rows.map((row) => row.marks.length));
  const full = rows.filter((row, k) => signs[k] >= FULL.signs * most && row.marks.length >= FULL.marks * marks);
  return full.sort((a, b) => a.y - b.y);
}

/** Figures stand about this far below an origin that nobody drew, as a share of the height (common practice, no source). */
const FIGURES = { below: 0.04, sd: 0.015 };

/** Where the origin is taken to be if nothing shows it: a little above the lanes' figures, or where people leave it. */
function customOrigin(rows: readonly MarkRow[], { width, height }: SignalMap): { y: number; sd: number } {
  const figures = fullRows(rows, width).find(
    (row) => figureCentres(row, width).length >= 3 && row.y > FIGURES_FROM * height,
  );
  if (!figures) return { y: CUSTOM.origin, sd: CUSTOM.originSd };
  return { y: figures.y / height - FIGURES.below, sd: FIGURES.sd };
}

const FIGURES_FROM = 0.85;

function originPrior(y: number): number {
  return priorWeight(y, CUSTOM.origin, 0.07);
}

function priorWeight(y: number, centre: number, sd: number): number {
  const t = (y - centre) / sd;
  return 1 / (1 + 0.5 * t * t);
}

function evidenceOf(z: Stripes, hit: CurveHit, reach: number, noise: number, bowed: boolean, prior: number): Evidence {
  const { curve, rms } = refineCurve(z, hit, Math.max(2, Math.round(reach * 0.6)), noise, MARGIN, bowed);
  return { curve, rms, weight: hit.score * prior };
}

/** A pencil line, a band that is darker or brighter than the layer at both sides, or a step in the ground. */
function frontEvidence(map: SignalMap): Evidence[] {
  const { height } = map;
  const dark = stripesOf(map.grey, STRIPES, MARGIN);
  const bright: Stripes = { ...dark, data: dark.data.map((v) => -v) };
  const found: Evidence[] = [];
  for (const share of [0.011, 0.022, 0.04]) {
    const reach = Math.max(3, Math.round(share * height));
    for (const [stripes, trust] of [
      [dark, 1],
      [bright, 0.8],
    ] as const) {
      const hits = frontHits(ridge(stripes, reach), reach, height, trust);
      // The finest ridge is a pencil line's; the broader ones are the wet band's.
      found.push(...(share < 0.02 ? hits : hits.map((e) => ({ ...e, curve: leadingEdge(stripes, e.curve, MARGIN) }))));
    }
  }
  const reach = Math.max(4, Math.round(0.025 * height));
  found.push(...frontHits(stepDown(dark, reach), reach, height, 0.7));
  return found;
}

/** Nearer to the upper end of the plate than this, as a share of the height, a line is the edge of the layer. */
const EDGE = 0.012;

function frontHits(z: Stripes, reach: number, height: number, trust: number): Evidence[] {
  const noise = spreadOf(z);
  const hits = findCurves(
    z,
    noise,
    {
      from: Math.round(0.015 * height),
      to: Math.round(0.4 * height),
      tilts: steps(0.05 * height, 13),
      bows: steps(0.04 * height, 9),
      margin: MARGIN,
    },
    reach,
    4,
  );
  return hits
    .filter((h) => h.score > 1.1 && h.steady > 0.6)
    .map((h) => evidenceOf(z, h, reach, noise, true, trust * priorWeight(h.y / height, CUSTOM.front, 0.08)))
    .filter(({ curve }) => curve.y > EDGE * height);
}
