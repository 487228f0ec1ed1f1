import type { Plane } from "../../raster/picture.ts";
import { negative, ridge, type Stripes, spreadOf } from "./blocks.ts";

/** Where a mark at an edge begins, and the pieces that it is looked at in, as shares of the plate's width. */
const BEGIN = 0.006;
const PIECE = 0.0125;
const PIECES = 7;
/** Middles of the pieces, widths from the edge. */
export const PIECE_CENTRES = Array.from({ length: PIECES }, (_, k) => BEGIN + (k + 0.5) * PIECE);
/** How many pieces a mark has. */
const LENGTHS = [2, 4, 7] as const;
/** Half the height below which it is a pencil mark, sharp or blurred, as a share of the plate's height. */
const REACHES = [0.011, 0.02] as const;

/** What stands out of the rows near one edge of a plate, where a mark has one length and is no higher than one reach. */
export interface EdgeRidge {
  readonly reach: number;
  /** How many pieces long. */
  readonly count: number;
  /** Of the whole length, and its spread. */
  readonly data: Float32Array;
  readonly spread: number;
  /** Of each piece, the outermost first. */
  readonly bits: readonly Float32Array[];
}

/** Both edges of a plate, the left one first. */
export type EdgeRidges = readonly [readonly EdgeRidge[], readonly EdgeRidge[]];

export function edgeRidges(plane: Plane): EdgeRidges {
  return [ridgesOfSide(plane, 0), ridgesOfSide(plane, 1)];
}

/** The same with valleys for ridges. */
export function turnedOver([left, right]: EdgeRidges): EdgeRidges {
  const turned = (data: Float32Array) => negative({ count: 1, height: data.length, data }).data;
  const side = (ridges: readonly EdgeRidge[]) =>
    ridges.map((one) => ({ ...one, data: turned(one.data), bits: one.bits.map(turned) }));
  return [side(left), side(right)];
}

function ridgesOfSide(plane: Plane, side: 0 | 1): EdgeRidge[] {
  const pieces = Array.from({ length: PIECES }, (_, k) => edgeProfile(plane, side, BEGIN + k * PIECE, PIECE));
  const lengths = LENGTHS.map((count) => edgeProfile(plane, side, BEGIN, count * PIECE));
  return REACHES.flatMap((share) => {
    const reach = Math.max(3, Math.round(share * plane.height));
    const bits = pieces.map((piece) => ridge(piece, reach).data);
    return LENGTHS.map((count, k) => {
      const whole = ridge(lengths[k], reach);
      return { reach, count, data: whole.data, spread: spreadOf(whole), bits };
    });
  });
}

/** Mean of each row over a part near one edge of the plate. */
function edgeProfile({ width, height, data }: Plane, side: 0 | 1, from: number, length: number): Stripes {
  const begin = Math.round(from * width);
  const end = Math.max(begin + 3, Math.round((from + length) * width));
  const [x0, x1] = side === 0 ? [begin, end] : [width - end, width - begin];
  const means = new Float32Array(height);
  for (let y = 0; y < height; y++) {
    let sum = 0;
    for (let x = x0, o = y * width; x < x1; x++) sum += data[o + x];
    means[y] = sum / (x1 - x0);
  }
  return { count: 1, height, data: means };
}
