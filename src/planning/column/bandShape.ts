/** Distribution function of the standard normal: Abramowitz and Stegun 7.1.26, error below 1.5e-7 (from memory). */
export function normalCdf(z: number): number {
  const x = Math.abs(z) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * x);
  const poly = t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  const tail = 0.5 * poly * Math.exp(-x * x);
  return z >= 0 ? 1 - tail : tail;
}

/** What of a band is off after `volumeMl`: 0..1. */
export type BandCdf = (volumeMl: number) => number;

/**
 * Share of a band that has left the column: the gamma law that equilibrium stages give (Martin and Synge 1941, from
 * memory), a little skewed, with the band's mean and standard deviation; by Wilson and Hilferty's cube root.
 */
export function bandCdf(retentionMl: number, sdMl: number): BandCdf {
  const shape = (retentionMl / sdMl) ** 2;
  return (volumeMl) => {
    if (volumeMl <= 0) return 0;
    const root = Math.cbrt(volumeMl / retentionMl);
    return normalCdf((root - 1 + 1 / (9 * shape)) * 3 * Math.sqrt(shape));
  };
}

/** Volume by which the share `p` (0 < p < 1) of a band is off; inverse of `bandCdf` for a normal quantile z. */
export function bandQuantile(retentionMl: number, sdMl: number, z: number): number {
  const shape = (retentionMl / sdMl) ** 2;
  return retentionMl * Math.max(0, 1 - 1 / (9 * shape) + z / (3 * Math.sqrt(shape))) ** 3;
}
