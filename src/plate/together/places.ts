import type { LinePlace } from "../../model/index.ts";

/** Steps in which a place that nothing shows is tried, as a share of the height. */
const STEP = 0.006;
/** How far out of its middle it is tried, in standard deviations. */
const REACH = 2.5;
/** Less likely places are not tried. */
const LEAST = 1e-4;

/** Places one by one, those that nothing shows in steps over where they may be. */
export function placesFor(places: readonly LinePlace[]): LinePlace[] {
  return places.flatMap((place) => {
    if (place.sd < STEP) return [{ ...place, probability: Math.max(LEAST, place.probability) }];
    const steps = Math.ceil((REACH * place.sd) / STEP);
    const offs = Array.from({ length: 2 * steps + 1 }, (_, k) => (k - steps) * STEP);
    const weights = offs.map((off) => Math.exp(-((off / place.sd) ** 2) / 2));
    const total = weights.reduce((a, b) => a + b, 0);
    return offs.map((off, k) => ({
      y: place.y + off,
      sd: 0,
      probability: (Math.max(LEAST, place.probability) * weights[k]) / total,
    }));
  });
}
