import { solvePositive } from "../../math/cholesky.ts";

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

const PARAMETERS = 5;

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

/** What is known of spots before the fit. */
export interface PeakPrior {
  readonly logSigma: number;
  readonly logSigmaSd: number;
  readonly tail: number;
  readonly tailSd: number;
  readonly flatSd: number;
}

export interface PeakFit {
  readonly peaks: readonly Peak[];
  /** Sum of squared residuals over the variances, plus the prior's terms. */
  readonly cost: number;
}

/**
 * Fits a sum of tailed peaks to a profile by Levenberg and Marquardt's method (Marquardt 1963, J. SIAM 11, 431) with
 * Gaussian priors on width, tailing and flatness. Heights stay positive, modes inside rows from..to.
 * @param variance per row
 */
export function fitPeaks(
  profile: Float64Array,
  variance: Float64Array,
  start: readonly Peak[],
  prior: PeakPrior,
  from: number,
  to: number,
  rounds = 14,
): PeakFit {
  const n = start.length;
  const size = PARAMETERS * n;
  let peaks = start.map((p) => ({ ...p }));
  let cost = costOf(profile, variance, peaks, prior, from, to);
  let lambda = 0.02;
  for (let round = 0; round < rounds; round++) {
    const { a, g } = normalEquations(profile, variance, peaks, prior, from, to, size);
    let improved = false;
    for (let attempt = 0; attempt < 5; attempt++) {
      const step = solveDamped(a, g, size, lambda);
      if (step) {
        const trial = peaks.map((p, k) => moved(p, step, PARAMETERS * k, from, to));
        const trialCost = costOf(profile, variance, trial, prior, from, to);
        if (trialCost < cost) {
          const gain = cost - trialCost;
          peaks = trial;
          cost = trialCost;
          lambda = Math.max(lambda / 4, 1e-4);
          improved = gain > 0.03 * (1 + cost * 1e-3);
          break;
        }
      }
      lambda *= 6;
    }
    if (!improved) break;
  }
  return { peaks, cost };
}

function moved(p: Peak, step: Float64Array, o: number, from: number, to: number): Peak {
  const limit = (v: number, m: number) => Math.max(-m, Math.min(m, v));
  const s = Math.exp(p.logSigma);
  return {
    height: Math.max(p.height * 0.2, p.height + step[o]),
    mode: Math.max(from, Math.min(to, p.mode + limit(step[o + 1], 1.5 * s))),
    logSigma: Math.max(0.2, Math.min(4.2, p.logSigma + limit(step[o + 2], 0.5))),
    tail: Math.max(-0.8, Math.min(1.2, p.tail + limit(step[o + 3], 0.4))),
    flat: Math.max(0, Math.min(1.1, p.flat + limit(step[o + 4], 0.3))),
  };
}

function span(p: Peak, from: number, to: number): [number, number] {
  return [
    Math.max(from, Math.ceil(p.mode - REACH * sigmaBack(p))),
    Math.min(to, Math.floor(p.mode + REACH * sigmaFront(p))),
  ];
}

export function costOf(
  profile: Float64Array,
  variance: Float64Array,
  peaks: readonly Peak[],
  prior: PeakPrior,
  from: number,
  to: number,
): number {
  const rest = profile.slice(from, to + 1);
  for (const p of peaks) addPeak(p, rest, from, -1);
  let cost = 0;
  for (let i = 0; i < rest.length; i++) cost += (rest[i] * rest[i]) / variance[from + i];
  for (const p of peaks)
    cost +=
      ((p.logSigma - prior.logSigma) / prior.logSigmaSd) ** 2 +
      ((p.tail - prior.tail) / prior.tailSd) ** 2 +
      (p.flat / prior.flatSd) ** 2;
  return cost;
}

/** Derivatives of a peak by its five parameters, in the order of `Peak`: one row of `slopes` each. */
function fillSlopes(p: Peak, [lo, hi]: readonly [number, number], slopes: Float64Array, from: number): void {
  const { mode, height } = p;
  const rows = slopes.length / PARAMETERS;
  const perFront = 1 / sigmaFront(p);
  const perBack = 1 / sigmaBack(p);
  const exponent = 2 * Math.exp(p.flat);
  for (let r = lo; r <= hi; r++) {
    const d = r - mode;
    const t = d < 0 ? -d * perBack : d * perFront;
    const logT = Math.log(Math.max(t, 1e-9));
    const u = Math.exp(exponent * logT);
    const e = Math.exp(-0.5 * u);
    const slope = 0.5 * exponent * u * height * e;
    const i = r - from;
    slopes[i] = e;
    slopes[rows + i] = d === 0 ? 0 : slope / d;
    slopes[2 * rows + i] = slope;
    slopes[3 * rows + i] = d < 0 ? slope : -slope;
    slopes[4 * rows + i] = -slope * logT;
  }
}

/** Kept for the next time: it is read only where it was filled, and making it took as long as filling it. */
let slopesRoom = new Float64Array(0);

function normalEquations(
  profile: Float64Array,
  variance: Float64Array,
  peaks: readonly Peak[],
  prior: PeakPrior,
  from: number,
  to: number,
  size: number,
) {
  const a = new Float64Array(size * size);
  const g = new Float64Array(size);
  const rows = to - from + 1;
  const rest = profile.slice(from, to + 1);
  if (slopesRoom.length < size * rows) slopesRoom = new Float64Array(size * rows);
  const slopes = slopesRoom.subarray(0, size * rows);
  const spans = peaks.map((p) => span(p, from, to));
  for (let k = 0; k < peaks.length; k++) {
    fillSlopes(peaks[k], spans[k], slopes.subarray(PARAMETERS * k * rows, PARAMETERS * (k + 1) * rows), from);
    addPeak(peaks[k], rest, from, -1);
  }
  const weighted = new Float64Array(rows);
  for (let p = 0; p < size; p++) {
    const k = Math.floor(p / PARAMETERS);
    const [lo, hi] = [spans[k][0] - from, spans[k][1] - from];
    let slope = 0;
    for (let i = lo, o = p * rows + lo; i <= hi; i++, o++) {
      weighted[i] = slopes[o] / variance[i + from];
      slope += weighted[i] * rest[i];
    }
    g[p] = slope;
    for (let q = 0; q <= p; q++) {
      const other = spans[Math.floor(q / PARAMETERS)];
      const end = Math.min(hi, other[1] - from);
      let s = 0;
      for (let i = Math.max(lo, other[0] - from), o = q * rows + i; i <= end; i++, o++) s += weighted[i] * slopes[o];
      a[p * size + q] = a[q * size + p] = s;
    }
  }
  peaks.forEach((p, k) => {
    const hold = (parameter: number, offset: number, sd: number) => {
      const i = PARAMETERS * k + parameter;
      a[i * size + i] += 1 / sd ** 2;
      g[i] -= offset / sd ** 2;
    };
    hold(2, p.logSigma - prior.logSigma, prior.logSigmaSd);
    hold(3, p.tail - prior.tail, prior.tailSd);
    hold(4, p.flat, prior.flatSd);
  });
  return { a, g };
}

function solveDamped(a: Float64Array, g: Float64Array, size: number, lambda: number): Float64Array | null {
  const m = a.slice();
  for (let i = 0; i < size; i++) m[i * size + i] = m[i * size + i] * (1 + lambda) + 1e-9;
  const step = g.slice();
  return solvePositive(m, size, [step]) ? step : null;
}
