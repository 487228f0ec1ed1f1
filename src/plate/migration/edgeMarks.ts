import type { SignalMap } from "../view.ts";
import type { RowCurve } from "./curves.ts";
import { type EdgeRidge, type EdgeRidges, PIECE_CENTRES, turnedOver } from "./edgeRidges.ts";
import { type StrokeLean, strokeLean } from "./strokeLean.ts";

/** A short mark at each edge of the plate, at one height: what people draw who draw no line across the layer. */
export interface EdgeMarks extends RowCurve {
  /** How far the fainter of the two stands out, in widths of the ridges of its own side. */
  readonly clear: number;
}

/** Each of its pieces has this share of its strength: a scratch that comes in at a slant has not. */
const WHOLE = 0.25;
/** Rows between the middles of its first two pieces, at most. */
const SLANT = 3;
/** Rows looked at, as shares of the height: nearer to the ends the rim and chipped corners begin. */
export const ORIGIN_ROWS = { from: 0.6, to: 0.965 };
export const FRONT_ROWS = { from: 0.035, to: 0.35 };
export type Rows = typeof ORIGIN_ROWS;
/** Rise of a row over the plate's width, at most, as shares of the plate's height and width. */
const TILT = { ofHeight: 0.045, ofWidth: 0.07 };
/** A mark stands out of the ridges of its side by so many widths. */
const CLEAR = 6;
/** One hand presses about evenly: the fainter mark has at least this share of the other's strength. */
const ALIKE = 0.35;
/** At the very rim a mark is at least this share of what it is farther in; the spots of an outer lane are not. */
const AT_RIM = 0.6;
/** Marks looked at on each side. */
const MOST = 3;

type Plate = Pick<SignalMap, "light" | "width" | "height">;

/** The pairs of marks at both edges where an origin may be, the clearest first. */
export function edgeMarks(plate: Plate, edges: EdgeRidges): EdgeMarks[] {
  return pairsIn(plate, edges, ORIGIN_ROWS);
}

/** The pairs of marks at both edges where a front may be, the clearest first. */
export function frontMarks(plate: Plate, edges: EdgeRidges): EdgeMarks[] {
  return pairsIn(plate, edges, FRONT_ROWS);
}

function pairsIn({ light, width, height }: Plate, edges: EdgeRidges, rows: Rows): EdgeMarks[] {
  const most = Math.max(TILT.ofHeight * height, TILT.ofWidth * width);
  const pairs: EdgeMarks[] = [];
  for (const look of looksAt(light, edges)) {
    const [left, right] = look.map((ridges) => marksOfSide(ridges, height, rows));
    for (const a of left)
      for (const b of right) {
        const tilt = b.y - a.y;
        if (Math.abs(tilt) > most) continue;
        if (Math.min(a.strength, b.strength) < ALIKE * Math.max(a.strength, b.strength)) continue;
        pairs.push({ y: (a.y + b.y) / 2, tilt, bow: 0, clear: Math.min(a.clear, b.clear) });
      }
  }
  return pairs.sort((p, q) => q.clear - p.clear);
}

/** Marks at either edge, whatever the other one shows. */
export function sideMarks({ light, height }: Plate, edges: EdgeRidges, rows: Rows): LeaningMark[] {
  return looksAt(light, edges).flatMap((look) =>
    look.flatMap((ridges, k) => {
      const side = k === 0 ? 0 : 1;
      return marksOfSide(ridges, height, rows).map(
        (mark) => ({ ...mark, side, lean: leanOf(ridges[0], mark) }) as const,
      );
    }),
  );
}

/** At 365 nm pencil is darker than the layer, or brighter where that is black. */
function looksAt(light: Plate["light"], edges: EdgeRidges): EdgeRidges[] {
  return light === "uv365" ? [edges, turnedOver(edges)] : [edges];
}

/** All lengths of a side share their pieces. */
function leanOf({ bits }: EdgeRidge, { y }: SideMark): StrokeLean {
  return strokeLean(bits, PIECE_CENTRES, Math.floor(y));
}

/** A mark at one edge, followed inwards. */
export interface LeaningMark extends SideMark {
  /** 0 the left edge, 1 the right one. */
  readonly side: 0 | 1;
  readonly lean: StrokeLean;
}

export interface SideMark {
  /** Middle of the mark in rows. */
  readonly y: number;
  readonly clear: number;
  /** How much darker it is than the layer above and below it. */
  readonly strength: number;
}

function marksOfSide(ridges: readonly EdgeRidge[], height: number, rows: Rows): SideMark[] {
  const found: SideMark[] = [];
  for (const { reach, count, data, spread, bits } of ridges)
    for (let y = Math.round(rows.from * height); y < rows.to * height; y++) {
      const clear = data[y] / spread;
      if (clear < CLEAR || data[y] < data[y - 1] || data[y] <= data[y + 1]) continue;
      // a layer that is flaked off at the cut lacks the outermost piece
      const first = bits[0][y] < WHOLE * data[y] ? 1 : 0;
      const rim = Math.max(bits[1][y], (bits[0][y] + bits[1][y]) / 2);
      if (rim < AT_RIM * Math.max(bits[2][y], bits[3][y])) continue;
      const half = Math.round(reach / 2);
      if (Math.abs(peakNear(bits[first], y, half) - peakNear(bits[first + 1], y, half)) > SLANT) continue;
      const pieces = bits.slice(first, Math.max(count, first + 2));
      if (pieces.some((bit) => Math.max(bit[y - 1], bit[y], bit[y + 1]) < WHOLE * data[y])) continue;
      found.push({ y: y + 0.5, clear, strength: data[y] });
    }
  const best: SideMark[] = [];
  for (const mark of found.sort((a, b) => b.clear - a.clear)) {
    if (best.length >= MOST) break;
    if (best.every((m) => Math.abs(m.y - mark.y) > 0.015 * height)) best.push(mark);
  }
  return best;
}

function peakNear(profile: Float32Array, y: number, reach: number): number {
  let top = y;
  for (let k = Math.max(0, y - reach); k <= Math.min(profile.length - 1, y + reach); k++)
    if (profile[k] > profile[top]) top = k;
  return top;
}
