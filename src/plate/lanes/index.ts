import type { MigrationLine } from "../../model/index.ts";
import type { Plane } from "../../raster/picture.ts";
import { figureCentres } from "../figures.ts";
import type { LaneTrack } from "../frame.ts";
import type { MarkRow, SignalMap } from "../view.ts";
import { countLanes } from "./count.ts";
import { columnEnergy, spotEnergy } from "./energy.ts";
import { bestLattice, type Lattice } from "./lattice.ts";
import { laneSigns } from "./signs.ts";
import { tickCentres, tickColumns } from "./ticks.ts";

export interface LaneOptions {
  /** Known number of lanes, or null. */
  readonly count: number | null;
  readonly origin: MigrationLine;
  readonly front: MigrationLine;
  /** Rows of marks above the front, of all photos; left out: none. */
  readonly head?: readonly MarkRow[];
}

export interface FoundLanes {
  readonly tracks: readonly LaneTrack[];
  /** Distance of neighbouring lanes, as a fraction of the plate's width. */
  readonly pitch: number;
}

/** Rows that count, in parts of the way: from a little below the front to the origin with its residues. */
const TOP = 0.96;
const BOTTOM = -0.02;

/**
 * Finds the lanes of a plate from the energy of its spots, the pencil marks under them and even spacing.
 * @param marks rows of pencil marks, one list per photo
 */
export function findLanes(
  maps: readonly SignalMap[],
  marks: readonly (readonly MarkRow[])[],
  options: LaneOptions,
): FoundLanes {
  const energy = spotEnergy(maps);
  const { width, height } = energy;
  const way = options.origin.y - options.front.y;
  const y0 = Math.max(0, Math.round((options.origin.y - TOP * way) * height));
  const y1 = Math.min(height - 1, Math.round((options.origin.y - BOTTOM * way) * height));
  const ticks = tickCentres(tickColumns(maps, options.origin), 3);
  const signs = laneSigns(maps, marks.flat(), ticks, options);
  const counted = (told: number | null) => (told === 1 ? null : countLanes(signs, width, height, told));
  const likely = counted(options.count);
  const shear = bestShear(energy, y0, y1, likely?.lean ?? null);
  const plain = columnEnergy(energy, y0, y1, shear);
  const rows = marks.flat().filter((row) => !row.broad);
  const columns = withMarks(plain, [...rows.map((row) => figureCentres(row, width)), ticks], options.count);
  const lattice = latticeOf(columns, options.count, likely, () => counted(null));
  const centres = settle(columns, lattice);
  return {
    tracks: centres.map((x) => ({ x: x / width, drift: (shear * height) / width })),
    pitch: lattice.count > 1 ? lattice.pitch / width : 0.5,
  };
}

/** Leans that are tried, and how far one from the columns' energy may lie from that of the likeliest lanes. */
const LEAN = { step: 0.0125, steps: 8, near: 0.0125 };

/** The lean that makes the columns' energy most uneven: lanes upright, spots above one another. */
function bestShear(energy: Plane, y0: number, y1: number, near: number | null): number {
  let best = { shear: near ?? 0, score: 0 };
  for (let k = -LEAN.steps; k <= LEAN.steps; k++) {
    const shear = k * LEAN.step;
    if (near !== null && Math.abs(shear - near) > 1.01 * LEAN.near) continue;
    const columns = columnEnergy(energy, y0, y1, shear);
    let score = 0;
    for (let i = 0; i < columns.length; i++) score += columns[i] * columns[i];
    score *= 1 - 0.004 * Math.abs(k);
    if (score > best.score) best = { shear, score };
  }
  return best.shear;
}

/** Lanes in the number told, unless much of what is seen lies between them and none of it between another number. */
function latticeOf(
  columns: Float64Array,
  told: number | null,
  likely: Lattice | null,
  other: () => Lattice | null,
): Lattice {
  // More lanes than there is room for side by side: what is seen counts.
  const room = likely ?? (told !== null && told > 1 ? other() : null);
  const lattice = room ?? bestLattice(columns, told ?? 1);
  if (told === null || shareOnLanes(columns, lattice) > ON_LANES) return lattice;
  const untold = other();
  const slip = untold !== null && Math.abs(untold.count - told) <= MISNAMED;
  return slip && shareOnLanes(columns, untold) > SURELY_ON_LANES ? untold : lattice;
}

/** Lanes that fit hold more than this share of the energy; on lanes laid at random half of it falls within. */
const ON_LANES = 0.62;
const SURELY_ON_LANES = 0.85;
/** Whoever names lanes is off by a few of them at most; far fewer that fit are every second one, or the few that show spots. */
const MISNAMED = 2;

/** Share of the energy that lies nearer to a lane than to the middle of a gap. */
function shareOnLanes(columns: Float64Array, { first, pitch }: Lattice): number {
  let on = 0;
  let all = 0;
  columns.forEach((v, x) => {
    const k = (x + 0.5 - first) / pitch;
    all += v;
    if (Math.abs(k - Math.round(k)) < 0.25) on += v;
  });
  return all === 0 ? 1 : on / all;
}

/**
 * Moves each lane to the centre of its own energy, as far as there is any. Hands place lanes to about a tenth of a
 * pitch, so the even spacing is fitted anew through the first centres, and the second look stays close to it.
 */
function settle(columns: Float64Array, lattice: Lattice): number[] {
  const typical = columns.reduce((a, b) => a + b, 0) / columns.length;
  const even = Array.from({ length: lattice.count }, (_, i) => lattice.first + i * lattice.pitch);
  const first = even.map((x) => centroid(columns, x, 0.3 * lattice.pitch, typical));
  const fitted = evenly(first, lattice.pitch);
  return fitted.map((x) => {
    const c = centroid(columns, x, 0.24 * lattice.pitch, typical);
    return x + c.trust * (c.x - x);
  });
}

interface Centroid {
  readonly x: number;
  /** 0 no energy, towards 1 plenty. */
  readonly trust: number;
}

function centroid(columns: Float64Array, start: number, reach: number, typical: number): Centroid {
  let x = start;
  let trust = 0;
  for (let round = 0; round < 4; round++) {
    let sum = 0;
    let moment = 0;
    for (let c = Math.max(0, Math.floor(x - reach)); c <= Math.min(columns.length - 1, x + reach); c++) {
      const w = columns[c] ** 1.5;
      sum += w;
      moment += w * (c + 0.5);
    }
    if (sum <= 0) break;
    trust = sum / (sum + (0.35 * typical) ** 1.5 * 2 * reach);
    x = Math.max(start - reach, Math.min(start + reach, moment / sum));
  }
  return { x, trust };
}

/** Even spacing through the centres by robust least squares. */
function evenly(centres: readonly Centroid[], pitch: number): number[] {
  const n = centres.length;
  if (n < 3) return centres.map((c) => c.x);
  let a = centres[0].x;
  let b = pitch;
  let weights = centres.map((c) => c.trust + 0.02);
  for (let round = 0; round < 5; round++) {
    const line = weightedLine(
      centres.map((c) => c.x),
      weights,
    );
    if (!line) break;
    [a, b] = line;
    weights = centres.map((c, i) => {
      const r = (c.x - a - b * i) / (0.1 * pitch);
      return (c.trust + 0.02) / (1 + r * r) ** 2;
    });
  }
  return centres.map((_, i) => a + b * i);
}

/** Intercept and slope of values over their index. */
function weightedLine(values: readonly number[], weights: readonly number[]): [number, number] | null {
  let s = 0;
  let si = 0;
  let sii = 0;
  let sv = 0;
  let siv = 0;
  values.forEach((v, i) => {
    const w = weights[i];
    s += w;
    si += w * i;
    sii += w * i * i;
    sv += w * v;
    siv += w * i * v;
  });
  const det = s * sii - si * si;
  return Math.abs(det) < 1e-12 ? null : [(sii * sv - si * siv) / det, (s * siv - si * sv) / det];
}

/**
 * Adds the pencil marks of the row that fits evenly spaced lanes best to the columns' energy: a mark counts like a
 * lane of typical spots.
 */
function withMarks(columns: Float64Array, rows: readonly (readonly number[])[], count: number | null): Float64Array {
  const strength = strongColumn(columns);
  const least = count === null ? 4 : 0.55 * count;
  let best: { bumps: Float64Array; score: number } | null = null;
  for (const centres of rows) {
    if (centres.length < least) continue;
    const bumps = bumpsAt(centres, columns.length, strength);
    const score = count === null ? centres.length : bestLattice(bumps, count).score;
    if (!best || score > best.score) best = { bumps, score };
  }
  return best ? columns.map((v, x) => v + best.bumps[x]) : columns;
}

function bumpsAt(centres: readonly number[], width: number, strength: number): Float64Array {
  const out = new Float64Array(width);
  const sigma = Math.max(2, (0.1 * width) / (centres.length + 1));
  for (const centre of centres)
    for (let x = 0; x < width; x++) out[x] += strength * Math.exp(-0.5 * ((x + 0.5 - centre) / sigma) ** 2);
  return out;
}

/** Energy that a column through a clear spot has: the 90 % quantile, or 1 on a bare plate. */
function strongColumn(columns: Float64Array): number {
  const sorted = columns.slice().sort();
  return Math.max(sorted[Math.floor(0.9 * sorted.length)], 1);
}
