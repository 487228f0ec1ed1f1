import { type Peak, sigmaBack, sigmaFront } from "./peaks.ts";

/** Share of the lower of two peaks that the signal must fall by between them: less is no valley. */
const LEAST_DIP = 0.06;
/** Peaks that differ more in height are a spot and its shoulder, not the two ends of a flat top. */
const ALIKE = 0.75;

/**
 * Joins peaks between which the signal does not fall, though they stand so far apart that two spots would leave a valley:
 * the two ends of one flat top, of a spot that is overloaded or that the camera could not follow.
 * @param smooth the profile that the peaks were fitted to, smoothed
 * @returns the peaks along the lane, and whether any were joined
 */
export function joinedPlateaus(peaks: readonly Peak[], smooth: Float64Array): { peaks: Peak[]; joined: boolean } {
  const out: Peak[] = [];
  let joined = false;
  for (const peak of [...peaks].sort((a, b) => a.mode - b.mode)) {
    const last = out[out.length - 1];
    if (last && oneTop(last, peak, smooth)) {
      out[out.length - 1] = spanning(last, peak);
      joined = true;
    } else out.push(peak);
  }
  return { peaks: out, joined };
}

function oneTop(low: Peak, high: Peak, smooth: Float64Array): boolean {
  const [a, b] = [Math.round(low.mode), Math.round(high.mode)];
  // Nearer than this, two spots of equal height leave no valley either; how wide they are their outer flanks tell.
  if (b - a < 2.2 * Math.min(sigmaBack(low), sigmaFront(high))) return false;
  const top = Math.min(smooth[a], smooth[b]);
  if (top < ALIKE * Math.max(smooth[a], smooth[b])) return false;
  for (let r = a; r <= b; r++) if (smooth[r] < (1 - LEAST_DIP) * top) return false;
  return true;
}

/** One flat peak from the back of the lower one to the front of the other. */
function spanning(low: Peak, high: Peak): Peak {
  const from = low.mode - sigmaBack(low);
  const to = high.mode + sigmaFront(high);
  return {
    height: Math.max(low.height, high.height),
    mode: (from + to) / 2,
    logSigma: Math.log((to - from) / 2),
    tail: 0,
    flat: 0.7,
  };
}
