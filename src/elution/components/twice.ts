import type { Lane, PlateReading, Spot } from "../../model/index.ts";

/** Two finds nearer than these shares of the smaller width, across and along the lane, are one spot. */
const ACROSS = 0.5;
const ALONG = 0.5;

/** The same spot found in another lane of its plate as well. */
export interface Twin {
  /** `Lane.index` of the other lane, and index in its `spots`. */
  readonly lane: number;
  readonly spot: number;
}

/**
 * Spots that two lanes of one plate claim, because the lanes were taken to lie nearer than they do or a spot is broad.
 * @returns [lane in order][spot] the other claim, or null
 */
export function twins(plate: PlateReading): (Twin | null)[][] {
  return plate.lanes.map((lane, l) =>
    lane.spots.map((spot) => {
      for (const other of [plate.lanes[l - 1], plate.lanes[l + 1]]) {
        if (!other || !between(spot, lane, other, plate)) continue;
        const found = other.spots.findIndex((s) => same(spot, s, plate) && between(s, other, lane, plate));
        if (found >= 0) return { lane: other.index, spot: found };
      }
      return null;
    }),
  );
}

/** No spot lies well beyond the lane beside its own, wherever exactly the two stand: so many times the way there. */
const BEYOND = 1.4;

function between(spot: Spot, own: Lane, beside: Lane, plate: PlateReading): boolean {
  const at = ({ x, drift }: Lane) => x + drift * (plate.origin.y - spot.y);
  return Math.abs(spot.x - at(own)) <= Math.max(BEYOND * Math.abs(at(beside) - at(own)), 0.5 * spot.widthX);
}

function same(a: Spot, b: Spot, plate: PlateReading): boolean {
  const way = Math.max(0.1, plate.origin.y - plate.front.y);
  return (
    Math.abs(a.x - b.x) < ACROSS * Math.min(a.widthX, b.widthX) &&
    Math.abs(a.y - b.y) < ALONG * way * Math.min(a.widthRf, b.widthRf)
  );
}
