/**
 * A tailed peak along a lane: a Gaussian with its own width on each side of the mode (bi-Gaussian, Buys and de Clerk
 * 1972, Anal. Chem. 44, 1273), whose exponent may exceed 2 for an overloaded, flat-topped spot. Rows of the grid; the
 * back (`tail` > 0 widens it) is the side of lower Rf.
 */
export interface Peak {
  readonly height: number;
  readonly mode: number;
  /** Natural logarithm of the geometric mean of both standard deviations, in rows. */
  readonly logSigma: number;
  /** ln(back sigma / front sigma) / 2. */
  readonly tail: number;
  /** ln(exponent / 2): 0 for a Gaussian, larger for a flat top. */
  readonly flat: number;
}

export function sigmaFront(p: Peak): number {
  return Math.exp(p.logSigma - p.tail);
}

export function sigmaBack(p: Peak): number {
  return Math.exp(p.logSigma + p.tail);
}

/** A peak's tail is not followed further than this many deviations. */
const REACH = 4.3;

/** Width of the rectangle with a peak's height and area, in rows. */
export function lengthOf(p: Peak): number {
  const gaussian = Math.sqrt(Math.PI / 2);
  const exponent = 2 * Math.exp(p.flat);
  const half = p.flat === 0 ? gaussian : (2 ** (1 / exponent) / exponent) * gammaOf(1 / exponent);
  return half * (sigmaFront(p) + sigmaBack(p));
}

/** Gamma function for 0 < x <= 1 (Lanczos 1964, SIAM J. Numer. Anal. B 1, 86; g = 5 as in common use). */
function gammaOf(x: number): number {
  const c = [76.18009172947146, -86.50532032941678, 24.01409824083091, -1.231739572450155, 0.001208650973866179];
  const t = x + 5.5;
  let sum = 1.000000000190015;
  for (let i = 0; i < c.length; i++) sum += c[i] / (x + 1 + i);
  return (Math.exp((x + 0.5) * Math.log(t) - t) * 2.5066282746310007 * sum) / x;
}

/** A peak made ready to be asked at many rows: exponentials take their time. */
export interface Course {
  readonly height: number;
  readonly mode: number;
  readonly front: number;
  readonly back: number;
  readonly exponent: number;
}

export function courseOf(p: Peak): Course {
  return { height: p.height, mode: p.mode, front: sigmaFront(p), back: sigmaBack(p), exponent: 2 * Math.exp(p.flat) };
}

/** Height of a peak at a row. */
export function heightAt({ height, mode, front, back, exponent }: Course, row: number): number {
  const d = row - mode;
  const t = Math.abs(d) / (d < 0 ? back : front);
  return t > REACH ? 0 : height * Math.exp(-0.5 * t ** exponent);
}

/** Adds a peak to the values of rows from..: as `heightAt` has it row by row, without its repeated exponentials. */
export function addPeak(p: Peak, values: Float64Array, from: number, factor = 1): void {
  const { mode, flat } = p;
  const [lo, hi] = span(p, from, from + values.length - 1);
  const perFront = 1 / sigmaFront(p);
  const perBack = 1 / sigmaBack(p);
  const exponent = 2 * Math.exp(flat);
  const height = factor * p.height;
  for (let r = lo; r <= hi; r++) {
    const d = r - mode;
    const t = d < 0 ? -d * perBack : d * perFront;
    const u = flat === 0 ? t * t : t ** exponent;
    values[r - from] += height * Math.exp(-0.5 * u);
  }
}

/** The rows from..to that a peak reaches. */
export function span(p: Peak, from: number, to: number): [number, number] {
  return [
    Math.max(from, Math.ceil(p.mode - REACH * sigmaBack(p))),
    Math.min(to, Math.floor(p.mode + REACH * sigmaFront(p))),
  ];
}
