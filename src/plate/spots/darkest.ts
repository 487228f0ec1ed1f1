import { smoothing } from "./detect.ts";
import { courseOf, heightAt, type Peak, sigmaBack, sigmaFront } from "./peaks.ts";

/** A peak less tailed than this is darkest at its mode. */
const TAILED = 0.25;
/** What is as dark as this share of the darkest row belongs to the top. */
const TOP = 0.95;
/** As a streak is rough, over so many rows. */
const smoothed = smoothing(3);

/**
 * Row where a spot is darkest. Of a streak the fitted mode lies too far forward, at the steep front where the layer only begins
 * to darken: a two-sided Gaussian has its greatest height where its sides meet. There the profile itself is asked.
 * @param others peaks of the other spots of the lane
 */
export function darkestRow(profile: Float64Array, peak: Peak, others: readonly Peak[]): number {
  if (Math.abs(peak.tail) < TAILED) return peak.mode;
  const [front, back] = [sigmaFront(peak), sigmaBack(peak)];
  const from = Math.max(0, Math.floor(peak.mode - Math.max(front, 0.7 * back)));
  const to = Math.min(profile.length - 1, Math.ceil(peak.mode + 0.7 * front));
  const rests = others.map(courseOf);
  const own = smoothed(profile.map((v, r) => v - rests.reduce((sum, o) => sum + heightAt(o, r), 0)));
  let darkest = from;
  for (let r = from; r <= to; r++) if (own[r] > own[darkest]) darkest = r;
  // Darkest at the end of the way: another spot, not this one's top.
  if (darkest === from || darkest === to) return peak.mode;
  const least = TOP * own[darkest];
  let [lo, hi] = [darkest, darkest];
  while (lo > 0 && own[lo - 1] > least) lo--;
  while (hi < own.length - 1 && own[hi + 1] > least) hi++;
  let [sum, moment] = [0, 0];
  for (let r = lo; r <= hi; r++) {
    sum += own[r] - least;
    moment += (own[r] - least) * r;
  }
  return sum > 0 ? moment / sum : darkest;
}
