import { ofLikeSize } from "./alike.ts";
import { APART, type HoldsLayer, settle, wholeFirst } from "./choose.ts";
import { leftToRight, overlapShare } from "./geometry.ts";
import type { Judged } from "./judge.ts";

/** How well the sides of a plate are shown that looks otherwise than the first: all along, and nearly as well. */
const PLAIN = { coherence: 0.85, score: 0.6 };

/**
 * Adds plates that somebody said are there too, though they look otherwise than those found: of another make or coating, or one that a
 * stain took differently. Each must show for a plate by itself.
 * @param found plates found so far, in pixels of the same sketch
 * @param judged what else the photo shows, best first
 * @param count how many plates it is said to show
 * @returns all, left to right
 */
export function withListed(
  found: readonly Judged[],
  judged: readonly Judged[],
  count: number,
  holdsLayer: HoldsLayer,
): Judged[] {
  const all = [...found];
  const least = PLAIN.score * Math.max(...found.map(({ score }) => score));
  const plain = judged.filter(
    ({ score, sides }) =>
      score >= least && sides.every(({ framed, coherence }) => !framed && coherence >= PLAIN.coherence),
  );
  for (const start of wholeFirst(plain, null)) {
    if (all.length >= count) break;
    const plate = settle(start, judged, false);
    if (all.some((one) => overlapShare(one.quad, plate.quad) > APART)) continue;
    if (ofLikeSize(found[0].quad, plate.quad, false) && holdsLayer(plate, "alone")) all.push(plate);
  }
  return leftToRight(all);
}
