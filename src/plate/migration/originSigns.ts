import { figureCentres } from "../figures.ts";
import type { MarkRow } from "../view.ts";
import { along } from "./along.ts";
import { negative } from "./blocks.ts";
import { cut } from "./cut.ts";
import { figureOdds, slenderShare } from "./figureLike.ts";
import { type Height, strongest } from "./heights.ts";
import { standsOverFigures, UNDER } from "./overFigures.ts";
import type { Sketch } from "./sketch.ts";
import { greatestNear, type SpotProfile } from "./spotProfile.ts";

/** What tells an origin from what else lies at such a height; each mostly from 0 to 1. */
export interface OriginSigns {
  /** Farther up and farther down than people draw. */
  readonly high: number;
  readonly low: number;
  /** A pencil line: its mean response, what two thirds of its stripes reach, and whether both are plain. */
  readonly pencil: number;
  readonly pencilSteady: number;
  readonly pencilPlain: number;
  /** A line in the whole grey signal. */
  readonly faint: number;
  readonly faintLow: number;
  /** Marks at both edges; a mark at one, as far as something else shows as well. */
  readonly edges: number;
  readonly edge: number;
  /** Marks over figures, too faint to show one by one. */
  readonly columns: number;
  /** A row of crosses, or of ticks that stand on figures. */
  readonly crosses: number;
  /** Of a row of sharp marks: its share of the fullest row's signs; how many; ticks; all alike; figures. */
  readonly row: number;
  readonly rowMany: number;
  readonly rowTicks: number;
  readonly rowAlike: number;
  readonly rowFigures: number;
  /** A row of blurred marks, and of figures. */
  readonly broad: number;
  readonly broadFigures: number;
  /** Marks here stand over figures. */
  readonly stands: number;
  /** Figures as far below as they are written; ticks, and any row, as far above. */
  readonly figuresBelow: number;
  readonly ticksAbove: number;
  readonly rowsAbove: number;
  /** Spots below: none lies below an origin. */
  readonly spotsBelow: number;
  /** Spots here, in many lanes. */
  readonly spotsHere: number;
  /** Something is left here and nothing below it. */
  readonly lowestRest: number;
  /** Something more plainly drawn as far above, or below, as figures are written. */
  readonly lineAbove: number;
  readonly lineBelow: number;
}

/** Marks and spots are at a height that lie so near to it, as a share of the plate's. */
const AT = 0.008;
/** Spots that reach so far below a height may lie on it. */
const ON = 0.022;
const FIGURES_APART = { least: 0.015, most: 0.15 };

interface Row {
  readonly row: MarkRow;
  /** Share of the fullest row's signs. */
  readonly full: number;
  readonly count: number;
  readonly odds: number;
  readonly ticks: number;
}

export function originSigns(
  heights: readonly Height[],
  sketches: readonly Sketch[],
  marks: readonly (readonly MarkRow[])[],
  profiles: readonly SpotProfile[],
): OriginSigns[] {
  const { height } = sketches[0].map;
  const rows = rowsOf(marks, sketches[0].map);
  const lines = linesOf(sketches);
  const own = heights.map((h) => {
    const line = lines(h);
    const row = rowSigns(h.curve.y, rows, sketches[0].map);
    return {
      y: h.curve.y,
      ...placeSigns(h.curve.y / height),
      ...line,
      edges: cut((strongest(h, "edges") - 3) / 9, 1),
      edge: cut((strongest(h, "edge") - 3) / 9, 1) * cut(line.pencil + line.faint + row.row, 1),
      crosses: cut((strongest(h, "crosses") - 1) / 4, 1),
      columns: cut((strongest(h, "columns") - 0.8) / 2.5, 1),
      ...row,
      ...spotSigns(h.curve.y, profiles),
    };
  });
  const drawn = own.map((s) =>
    Math.max(s.pencilPlain * s.pencil, 0.8 * s.edges, s.rowTicks, 0.8 * s.columns, 0.8 * s.crosses),
  );
  const drawnAt = (from: number, to: number) =>
    Math.max(0, ...own.map(({ y }, k) => (y / height > from && y / height < to ? drawn[k] : 0)));
  return own.map(({ y, ...signs }) => ({
    ...signs,
    lineAbove: drawnAt(y / height - FIGURES_APART.most, y / height - FIGURES_APART.least),
    lineBelow: drawnAt(y / height + FIGURES_APART.least, y / height + FIGURES_APART.most),
  }));
}

function placeSigns(y: number) {
  return { high: cut((0.87 - y) / 0.1, 3) ** 2, low: cut((y - 0.87) / 0.05, 3) ** 2 };
}

function rowsOf(marks: readonly (readonly MarkRow[])[], { width, height }: Size): Row[] {
  const all = marks.flat().map((row) => ({ row, count: figureCentres(row, width).length }));
  const fullest = Math.max(1, ...all.map((one) => one.count));
  return all.map(({ row, count }) => ({
    row,
    count,
    full: count / fullest,
    odds: figureOdds(row, width, height),
    ticks: row.broad ? 0 : slenderShare(row),
  }));
}

type Size = { readonly width: number; readonly height: number };

/** Pencil lines and faint ones along each height, in whichever photo shows them best. */
function linesOf(sketches: readonly Sketch[]) {
  const { height } = sketches[0].map;
  const slack = Math.max(1, Math.round(0.003 * height));
  const faint = sketches.flatMap(({ map, line: z, lineNoise: noise }) => {
    // At 365 nm pencil is darker than the layer or brighter.
    return map.light === "uv365" ? [z, negative(z)].map((one) => ({ z: one, noise })) : [{ z, noise }];
  });
  return ({ curve }: Height) => {
    const [pencil] = sketches
      .map((one) => along(one.pencil, one.pencilNoise, curve, slack))
      .sort((a, b) => b.mean - a.mean);
    const [line] = faint.map(({ z, noise }) => along(z, noise, curve, slack)).sort((a, b) => b.even - a.even);
    return {
      pencil: cut(pencil.mean, 3) / 3,
      pencilSteady: cut(pencil.steady, 2) / 2,
      pencilPlain: pencil.mean > 1.2 && pencil.steady > 0.5 ? 1 : 0,
      faint: cut(line.even, 3) / 3,
      faintLow: cut(line.low, 2) / 2,
    };
  };
}

function rowSigns(y: number, rows: readonly Row[], { width, height }: Size) {
  const off = ({ row }: Row) => (row.y - y) / height;
  const here = rows.filter((one) => Math.abs(off(one)) < AT).sort((a, b) => b.count - a.count);
  const below = rows.filter((one) => off(one) > UNDER.least && off(one) < UNDER.most);
  const above = rows.filter((one) => -off(one) > UNDER.least && -off(one) < UNDER.most);
  const sharp = here.find((one) => !one.row.broad);
  const broad = here.find((one) => one.row.broad);
  const any = sharp ?? broad;
  const stands = any ? below.filter((o) => o.ticks < 0.6 && standsOverFigures(any.row, o.row, width, height)) : [];
  const ticks = (one: Row) => (!one.row.broad && one.ticks > 0.6 && one.count >= 3 ? one.full : 0);
  return {
    row: sharp?.full ?? 0,
    rowMany: sharp ? cut((sharp.count - 2) / 4, 1) : 0,
    rowTicks: sharp ? sharp.ticks * sharp.full : 0,
    rowAlike: sharp?.row.alike ? sharp.full : 0,
    rowFigures: sharp ? sharp.odds * sharp.full : 0,
    broad: broad ? 1 : 0,
    broadFigures: broad ? broad.odds * broad.full : 0,
    stands: Math.max(0, ...stands.map((one) => one.full)),
    figuresBelow: Math.max(0, ...below.map((one) => one.odds * one.full)),
    ticksAbove: Math.max(0, ...above.map(ticks)),
    rowsAbove: Math.max(0, ...above.map((one) => (one.row.broad ? 0.6 : 1) * one.full)),
  };
}

function spotSigns(y: number, profiles: readonly SpotProfile[]) {
  const { height } = profiles[0];
  const below = ({ below }: SpotProfile) => SPOTS * below[Math.min(height, Math.round(y + ON * height))];
  return {
    spotsBelow: Math.log1p(Math.min(...profiles.map(below))),
    spotsHere: Math.max(0, ...profiles.map((p) => cut(greatestNear(p.rests, y, AT * height) / 0.4, 1))),
    lowestRest: Math.max(
      0,
      ...profiles.map((p) => cut(greatestNear(p.rests, y, AT * height) / 0.04, 1) / (1 + below(p))),
    ),
  };
}

/** A small spot covers one part in so many of a plate. */
const SPOTS = 3000;
