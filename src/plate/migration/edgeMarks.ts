import type { Plane } from "../../raster/picture.ts";
import type { SignalMap } from "../view.ts";
import { ridge, type Stripes, spreadOf } from "./blocks.ts";
import type { RowCurve } from "./curves.ts";

/** A short mark at each edge of the plate, at one height: what people draw who draw no line across the layer. */
export interface EdgeMarks extends RowCurve {
  /** How far the fainter of the two stands out, in widths of the ridges of its own side. */
  readonly clear: number;
}

/** Where a mark begins, and the pieces that it is looked at in, as shares of the plate's width; how many of them it has. */
const BEGIN = 0.006;
const PIECE = 0.0125;
const LENGTHS = [2, 4, 7] as const;
const PIECES = 7;
/** Each of its pieces has this share of its strength: a scratch that comes in at a slant has not. */
const WHOLE = 0.25;
/** Rows between the middles of its first two pieces, at most. */
const SLANT = 3;
/** Half the height below which it is a pencil mark, sharp or blurred, as a share of the plate's height. */
const REACHES = [0.011, 0.02] as const;
/** Rows looked at, as shares of the height: nearer to the ends the rim and chipped corners begin. */
const ORIGIN_ROWS = { from: 0.6, to: 0.965 };
const FRONT_ROWS = { from: 0.035, to: 0.35 };
type Rows = typeof ORIGIN_ROWS;
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

/** The pairs of marks at both edges where an origin may be, the clearest first. */
export function edgeMarks(map: SignalMap): EdgeMarks[] {
  return pairsIn(map, ORIGIN_ROWS);
}

/** The pairs of marks at both edges where a front may be, the clearest first. */
export function frontMarks(map: SignalMap): EdgeMarks[] {
  return pairsIn(map, FRONT_ROWS);
}

function pairsIn({ grey, light, width, height }: SignalMap, rows: Rows): EdgeMarks[] {
  // At 365 nm pencil is darker than the layer, or brighter where that is black.
  const signs = light === "uv365" ? [1, -1] : [1];
  const most = Math.max(TILT.ofHeight * height, TILT.ofWidth * width);
  const pairs: EdgeMarks[] = [];
  for (const sign of signs) {
    const left = marksOfSide(grey, sign, 0, rows);
    const right = marksOfSide(grey, sign, 1, rows);
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

interface SideMark {
  /** Middle of the mark in rows. */
  readonly y: number;
  readonly clear: number;
  /** How much darker it is than the layer above and below it. */
  readonly strength: number;
}

function marksOfSide(plane: Plane, sign: number, side: 0 | 1, rows: Rows): SideMark[] {
  const found: SideMark[] = [];
  const pieces = Array.from({ length: PIECES }, (_, k) => edgeProfile(plane, sign, side, BEGIN + k * PIECE, PIECE));
  for (const share of REACHES) {
    const reach = Math.max(3, Math.round(share * plane.height));
    const bits = pieces.map((piece) => ridge(piece, reach).data);
    for (const count of LENGTHS) {
      const z = ridge(edgeProfile(plane, sign, side, BEGIN, count * PIECE), reach);
      const spread = spreadOf(z);
      const { data } = z;
      for (let y = Math.round(rows.from * plane.height); y < rows.to * plane.height; y++) {
        const clear = data[y] / spread;
        if (clear < CLEAR || data[y] < data[y - 1] || data[y] <= data[y + 1]) continue;
        if (bits[0][y] + bits[1][y] < 2 * AT_RIM * Math.max(bits[2][y], bits[3][y])) continue;
        if (Math.abs(peakNear(bits[0], y, Math.round(reach / 2)) - peakNear(bits[1], y, Math.round(reach / 2))) > SLANT)
          continue;
        if (bits.slice(0, count).some((bit) => Math.max(bit[y - 1], bit[y], bit[y + 1]) < WHOLE * data[y])) continue;
        found.push({ y: y + 0.5, clear, strength: data[y] });
      }
    }
  }
  const best: SideMark[] = [];
  for (const mark of found.sort((a, b) => b.clear - a.clear)) {
    if (best.length >= MOST) break;
    if (best.every((m) => Math.abs(m.y - mark.y) > 0.015 * plane.height)) best.push(mark);
  }
  return best;
}

function peakNear(profile: Float32Array, y: number, reach: number): number {
  let top = y;
  for (let k = Math.max(0, y - reach); k <= Math.min(profile.length - 1, y + reach); k++)
    if (profile[k] > profile[top]) top = k;
  return top;
}

/** Mean of each row over a part near one edge of the plate. */
function edgeProfile({ width, height, data }: Plane, sign: number, side: 0 | 1, from: number, length: number): Stripes {
  const begin = Math.round(from * width);
  const end = Math.max(begin + 3, Math.round((from + length) * width));
  const [x0, x1] = side === 0 ? [begin, end] : [width - end, width - begin];
  const means = new Float32Array(height);
  for (let y = 0; y < height; y++) {
    let sum = 0;
    for (let x = x0, o = y * width; x < x1; x++) sum += data[o + x];
    means[y] = (sign * sum) / (x1 - x0);
  }
  return { count: 1, height, data: means };
}
