import { normalDeviate, seededRandom } from "../../../src/math/random.ts";
import type { PeakPrior } from "../../../src/plate/spots/fitPeaks.ts";
import type { Peak } from "../../../src/plate/spots/peaks.ts";
import { courseOf, heightAt } from "../../../src/plate/spots/peaks.ts";
import { RF_STEP, RF_STEPS, rowOfRf } from "../../../src/plate/spots/strip.ts";

/** What is known before the plate's own spots are: about 5 % of the way wide, a little tailed. */
export const PRIOR: PeakPrior = { logSigma: Math.log(6.5), logSigmaSd: 0.6, tail: 0.05, tailSd: 0.3, flatSd: 0.4 };

export const NOISE = 0.004;

/** A spot in a lane's profile: Rf, height, standard deviation in Rf. */
export interface DrawnPeak {
  readonly rf: number;
  readonly height: number;
  readonly sigma?: number;
  /** ln(back / front) / 2. */
  readonly tail?: number;
  /** ln(exponent / 2). */
  readonly flat?: number;
}

export function toPeak({ rf, height, sigma = 0.02, tail = 0, flat = 0 }: DrawnPeak): Peak {
  return { height, mode: rowOfRf(rf), logSigma: Math.log(sigma / RF_STEP), tail, flat };
}

/**
 * A lane's profile: peaks on noise of standard deviation `NOISE` that neighbouring rows share, as the smoothing along
 * the lane leaves it.
 */
export function drawProfile(peaks: readonly DrawnPeak[], seed = 1): Float64Array {
  const random = seededRandom(seed);
  const raw = Float64Array.from({ length: RF_STEPS + 2 }, () => normalDeviate(random) * NOISE * Math.sqrt(3));
  const drawn = peaks.map(toPeak);
  return Float64Array.from(
    { length: RF_STEPS },
    (_, r) => (raw[r] + raw[r + 1] + raw[r + 2]) / 3 + drawn.reduce((s, p) => s + heightAt(courseOf(p), r), 0),
  );
}

export const noiseRows = (): Float64Array => new Float64Array(RF_STEPS).fill(NOISE);
