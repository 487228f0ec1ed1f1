/**
 * Exponentially modified Gaussian: a normal deviate (mean `mu`, sd `sigma`) plus an exponential one (mean `tau`).
 * Usual model of a tailed elution peak (Grushka, Anal. Chem. 1972, 44, 1733; from memory).
 * SciPy's `exponnorm(K = tau / sigma, loc = mu, scale = sigma)` is the same law; tests hold its values.
 */
export interface EmgPeak {
  readonly mu: number;
  /** > 0 */
  readonly sigma: number;
  /** > 0 */
  readonly tau: number;
}

/**
 * Scaled complementary error function exp(x^2) erfc(x), x >= 0: Chebyshev fit of Numerical Recipes (`erfcc`,
 * from memory), relative error below 1.2e-7.
 */
function erfcxPositive(x: number): number {
  const t = 1 / (1 + 0.5 * x);
  const tail = [1.48851587, -0.82215223, 0.17087277];
  const head = [-1.26551223, 1.00002368, 0.37409196, 0.09678418, -0.18628806, 0.27886807, -1.13520398];
  let s = 0;
  for (const c of [...head, ...tail].reverse()) s = s * t + c;
  return t * Math.exp(s);
}

/** Complementary error function. */
function erfc(x: number): number {
  const e = erfcxPositive(Math.abs(x)) * Math.exp(-x * x);
  return x >= 0 ? e : 2 - e;
}

/** Density of the peak at t (area 1). */
export function emgDensity(t: number, { mu, sigma, tau }: EmgPeak): number {
  const z = (t - mu) / sigma;
  const w = (sigma / tau - z) / Math.SQRT2;
  if (w >= 0) return (0.5 / tau) * erfcxPositive(w) * Math.exp(-0.5 * z * z);
  return (0.5 / tau) * Math.exp(0.5 * (sigma / tau) ** 2 - (t - mu) / tau) * erfc(w);
}

/** Share of the peak that has come out by t, 0..1. */
export function emgCumulative(t: number, peak: EmgPeak): number {
  const z = (t - peak.mu) / peak.sigma;
  const value = 0.5 * erfc(-z / Math.SQRT2) - peak.tau * emgDensity(t, peak);
  return Math.min(1, Math.max(0, value));
}
