import type { Quad } from "../../model/index.ts";
import type { Turn } from "./turn.ts";

/**
 * The plates of one photo from left to right as they stand once all are turned alike: a photo taken from the far side of the
 * bench shows the first plate on the right. Where the turn sets them one above the other, as the photo shows them.
 * @param quads their corners in pixels of the photo, left to right as it shows them
 * @returns indices into `quads`
 */
export function orderAfter(quads: readonly Quad[], turn: Turn): number[] {
  const asShown = quads.map((_, i) => i);
  const centres = quads.map(centre);
  // A quarter turn clockwise sets what is lowest in the photo on the left.
  const along = centres.map(([x, y]) => [x, -y, -x, y][turn]);
  const across = centres.map(([x, y]) => (turn % 2 === 0 ? y : x));
  return spread(along) > spread(across) ? asShown.sort((a, b) => along[a] - along[b]) : asShown;
}

function centre(quad: Quad): readonly [number, number] {
  return [quad.reduce((sum, [x]) => sum + x, 0) / 4, quad.reduce((sum, [, y]) => sum + y, 0) / 4];
}

function spread(values: readonly number[]): number {
  return Math.max(...values) - Math.min(...values);
}
