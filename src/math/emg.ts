import erfcx from "@stdlib/math-base-special-erfcx";
import { normalCdf } from "./normal.ts";

const SQRT2PI = Math.sqrt(2 * Math.PI);

/**
 * Exponentially modified Gaussian, area 1: a Gaussian (centre `mu`, sd `sigma` > 0) followed by an exponential delay of
 * mean `tau` > 0, all in the unit of `x`. Written with the scaled complementary error function, so that it neither
 * overflows for short tails nor vanishes for long ones.
 * Source: Kalambet et al., J. Chemometrics 2011, 25, 352 (from memory); checked against scipy.stats.exponnorm.
 */
export function emgDensity(x: number, mu: number, sigma: number, tau: number): number {
  const z = (x - mu) / sigma;
  const ratio = sigma / tau;
  const c = (ratio - z) / Math.SQRT2;
  if (c > 0) return (Math.exp(-0.5 * z * z) * erfcx(c)) / (2 * tau);
  // Far in the tail erfcx(c) would overflow for strongly negative c: use the form in the plain erfc instead.
  return (Math.exp(0.5 * ratio * ratio - ratio * z) * normalCdf(z - ratio)) / tau;
}

/** Share of the exponentially modified Gaussian below `x`; parameters as in `emgDensity`. */
export function emgCdf(x: number, mu: number, sigma: number, tau: number): number {
  const z = (x - mu) / sigma;
  const below = normalCdf(z) - tau * emgDensity(x, mu, sigma, tau);
  return Math.min(1, Math.max(0, below));
}

/** Highest density of an exponentially modified Gaussian, found by golden section between mu and mu + sigma + tau. */
export function emgApex(mu: number, sigma: number, tau: number): { readonly at: number; readonly density: number } {
  const golden = (Math.sqrt(5) - 1) / 2;
  let low = mu - 0.5 * sigma;
  let high = mu + 1.5 * sigma + Math.min(tau, 3 * sigma);
  for (let i = 0; i < 60; i++) {
    const a = high - golden * (high - low);
    const b = low + golden * (high - low);
    if (emgDensity(a, mu, sigma, tau) < emgDensity(b, mu, sigma, tau)) low = a;
    else high = b;
  }
  const at = 0.5 * (low + high);
  return { at, density: emgDensity(at, mu, sigma, tau) };
}

/** Density of the Gaussian limit (no tail). */
export function gaussianDensity(x: number, mu: number, sigma: number): number {
  const z = (x - mu) / sigma;
  return Math.exp(-0.5 * z * z) / (sigma * SQRT2PI);
}
