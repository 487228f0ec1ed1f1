import type { Hiding } from "../grouping.ts";

/** ln 2 x 8: full width at half maximum squared over variance. */
const FWHM2 = 8 * Math.LN2;
/** Points of a standard normal (Gauss and Hermite, five) over which the unknown amount is averaged, with weights. */
const POINTS: readonly (readonly [at: number, weight: number])[] = [
  [-2.857, 0.0113],
  [-1.356, 0.2221],
  [0, 0.5333],
  [1.356, 0.2221],
  [2.857, 0.0113],
];

/**
 * Chance that a component is lost in its neighbour's spot, given how much of it the other tubes lead one to expect: the
 * more there is, the further it would have pulled the spot and the more widened it.
 * @param before chance that it is here, before looking
 * @param logRatio log of its expected amount over the neighbour's, and the sd of that
 */
export function hiddenChance(hiding: Hiding, before: number, logRatio: number, logRatioSd: number): number {
  const alone = density(hiding, 0);
  let joint = 0;
  for (const [at, weight] of POINTS) {
    const ratio = Math.exp(logRatio + at * logRatioSd);
    joint += weight * density(hiding, ratio / (1 + ratio));
  }
  const there = before * hiding.chance * joint;
  return there / (there + (1 - before) * alone + 1e-12);
}

/** Density of the spot's place and width where the component has the given share of it; a floor for what fits nothing. */
function density(hiding: Hiding, share: number): number {
  const off = (hiding.off - share * hiding.gap) / hiding.offSd;
  const widened = 0.5 * Math.log1p((FWHM2 * share * (1 - share) * hiding.gap ** 2) / hiding.single ** 2);
  const wide = (hiding.excess - widened) / hiding.excessSd;
  return (Math.exp(-0.5 * off * off) + 0.01) * (Math.exp(-0.5 * wide * wide) + 0.05);
}
