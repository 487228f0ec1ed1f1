import { singleRoom } from "../math/room.ts";
import type { RadiusRange } from "./middles.ts";
import { findOutlines, type Outline } from "./outlines.ts";
import type { Plane } from "./picture.ts";

/** Flat outlines, as are drawn round bands and wide spots, are about so many times as wide as high. */
const FLAT = 2;

/**
 * Finds thin closed lines that are flat: too uneven to be followed as they are, they are round in a picture of half the width.
 * @param range least and largest radius down, pixels
 */
export function findFlatOutlines(plane: Plane, range: RadiusRange): Outline[] {
  return findOutlines(narrowed(plane), range).map((one) => ({ ...one, x: FLAT * one.x + 0.5, wide: FLAT }));
}

const narrowRoom = singleRoom();

/** Means of every two neighbours in a row; a last one without a neighbour is left out. */
function narrowed({ width, height, data }: Plane): Plane {
  const out = { width: width >> 1, height, data: narrowRoom((width >> 1) * height) };
  for (let y = 0, o = 0; y < height; y++)
    for (let x = 0, i = y * width; x < out.width; x++, o++, i += 2) out.data[o] = (data[i] + data[i + 1]) / 2;
  return out;
}
