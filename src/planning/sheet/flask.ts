import type { FlaskPlan } from "../../model/index.ts";
import { PlatepoolError } from "../../model/index.ts";

/** Round-bottomed flasks as they are sold, mL. Common practice, no source. */
const FLASKS = [10, 25, 50, 100, 250, 500, 1000, 2000];
/** Largest flask taken to be at hand where nobody said, mL. */
export const USUAL_LARGEST_ML = 500;

/**
 * Smallest flask that a volume (mL, > 0) fills at most to half (common practice, no source); where the largest one at
 * hand is too small, even portions of it. Throws `flask-impossible` unless the largest is at least 10 mL.
 */
export function chooseFlask(volumeMl: number, largestMl: number): FlaskPlan {
  if (!(largestMl >= FLASKS[0] && Number.isFinite(largestMl)))
    throw new PlatepoolError(
      "flask-impossible",
      `a largest flask of ${largestMl} mL is too small; the smallest counted with is ${FLASKS[0]} mL.`,
    );
  const most = FLASKS.filter((size) => size <= largestMl).at(-1) ?? FLASKS[0];
  const portions = Math.max(1, Math.ceil(volumeMl / (most / 2) - 1e-9));
  const portionMl = volumeMl / portions;
  const flaskMl = FLASKS.find((size) => size / 2 >= portionMl - 1e-9) ?? most;
  return { flaskMl, portions, portionMl };
}
