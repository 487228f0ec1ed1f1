import { type Explanation, refine, startOf } from "./fit.ts";
import type { Ground } from "./ground.ts";
import { fitOne, layPlates, MAX_COMPONENTS } from "./laying.ts";
import { joins, moves } from "./moves.ts";

/** A move must better the score by this much. */
const WORTH = 0.3;
/** A move that after one round is this much worse is given up. */
const HOPELESS = 12;
const MOST_MOVES = 12;

/**
 * Finds the explanation with the best score: plates are laid on one another one after the other, then components are
 * added, split, joined and dropped, and plates shifted, as long as that betters the score. Deterministic.
 * @param plateOrder plates in the order in which they are laid on
 */
export function search(ground: Ground, plateOrder: readonly number[]): Explanation {
  let best = layPlates(ground, plateOrder);
  for (let pass = 0; pass < MOST_MOVES; pass++) {
    const better = bestMove(ground, best) ?? bestShift(ground, best, plateOrder);
    if (!better) break;
    best = better;
  }
  return refine(ground, startOf(best), 4);
}

/** The best of all single changes to the components, or null where none is worth it. */
function bestMove(ground: Ground, e: Explanation): Explanation | null {
  let best: Explanation | null = null;
  for (const start of moves(ground, e)) {
    if (start.centres.length > MAX_COMPONENTS) continue;
    const first = refine(ground, start, 1);
    if (first.score < e.score - HOPELESS) continue;
    const tried = refine(ground, startOf(first), 2);
    if (tried.score > (best ?? e).score + (best ? 0 : WORTH)) best = tried;
  }
  return best;
}

/** For each component, the chance that it and the next one are one substance: from what joining them does to the score. */
export function oneWithNext(ground: Ground, e: Explanation): number[] {
  const chances = e.centres.map(() => 0);
  for (const start of joins(e)) {
    const joined = start.centres.findIndex((c, k) => c !== e.centres[k]);
    chances[joined] = 1 / (1 + Math.exp(e.score - refine(ground, start, 3).score));
  }
  return chances;
}

/** Each plate on a grid of shifts and stretches: the first that betters the score. */
function bestShift(ground: Ground, e: Explanation, plateOrder: readonly number[]): Explanation | null {
  if (plateOrder.length < 2) return null;
  for (const plate of plateOrder) {
    const scales = fitOne(ground, ground, e, plate);
    if (scales[plate].every((v, t) => Math.abs(v - e.scales[plate][t]) < 1e-9)) continue;
    const tried = refine(ground, { ...startOf(e), scales, present: e.present }, 3);
    if (tried.score > e.score + WORTH) return tried;
  }
  return null;
}
