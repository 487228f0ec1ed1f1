import type { PeakPrior } from "./fitPeaks.ts";
import { type Peak, sigmaBack, sigmaFront } from "./peaks.ts";

/** A peak is broad, or leans, where it is so by more of the prior's standard deviations. */
const ODD = 1;
/** Peaks within so many deviations of an odd one are fitted with it. */
const WITHIN = 2;
/** Reach of the second difference that shows a shoulder, in deviations of a usual spot, and how far it must stand out of the noise and height. */
const SHOULDER = { reach: 0.7, noise: 2, height: 0.06 };
/** Two shoulders lie no nearer than this, in deviations of a usual spot. */
const APART = 1.6;

/**
 * Where two spots that touch may have been taken for one that is broad or leans: the fit starts from maxima, and of two spots the
 * weaker is often none, but it still curves the profile.
 * @param smooth the profile that the peaks were fitted to, smoothed
 * @returns for each odd peak, those fitted in its stead and the rows to start from; none where fewer than two shoulders show
 */
export function shoulders(
  peaks: readonly Peak[],
  smooth: Float64Array,
  noise: Float64Array,
  usual: PeakPrior,
): { readonly instead: readonly Peak[]; readonly rows: readonly number[] }[] {
  const sigma = Math.exp(usual.logSigma);
  return peaks
    .filter((p) => isOdd(p, usual))
    .flatMap((odd) => {
      const from = odd.mode - WITHIN * sigmaBack(odd);
      const to = odd.mode + WITHIN * sigmaFront(odd);
      const rows = curved(
        smooth,
        noise,
        Math.max(0, Math.floor(from)),
        Math.min(smooth.length - 1, Math.ceil(to)),
        sigma,
      );
      const instead = peaks.filter(({ mode }) => mode >= from && mode <= to);
      return rows.length > 1 ? [{ instead, rows }] : [];
    });
}

function isOdd(p: Peak, usual: PeakPrior): boolean {
  return p.logSigma - usual.logSigma > ODD * usual.logSigmaSd || Math.abs(p.tail - usual.tail) > ODD * usual.tailSd;
}

/** Rows from..to where the profile curves downwards most, the strongest first taken, then along the lane. */
function curved(smooth: Float64Array, noise: Float64Array, from: number, to: number, sigma: number): number[] {
  const reach = Math.max(1, Math.round(SHOULDER.reach * sigma));
  const at = (r: number) => smooth[Math.max(0, Math.min(smooth.length - 1, r))];
  const bend = (r: number) => 2 * at(r) - at(r - reach) - at(r + reach);
  const found: number[] = [];
  for (let r = from; r <= to; r++) {
    const b = bend(r);
    if (b < SHOULDER.noise * noise[r] || b < SHOULDER.height * at(r)) continue;
    if (b >= bend(r - 1) && b > bend(r + 1)) found.push(r);
  }
  const kept: number[] = [];
  for (const r of found.sort((a, b) => bend(b) - bend(a)))
    if (kept.every((k) => Math.abs(k - r) >= APART * sigma)) kept.push(r);
  return kept.sort((a, b) => a - b);
}
