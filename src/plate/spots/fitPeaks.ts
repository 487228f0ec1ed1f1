import { solvePositive } from "../../math/cholesky.ts";
import { doubleRoom } from "../../math/room.ts";
import { addPeak, type Peak, sigmaBack, sigmaFront, span } from "./peaks.ts";

const PARAMETERS = 5;

// Made once and used by one fit after the other: making them took as long as what is done in them.
const restRooms = [doubleRoom(), doubleRoom()];
const slopesRoom = doubleRoom();
const weightedRoom = doubleRoom();
const matrixRoom = doubleRoom();
const sideRoom = doubleRoom();
const dampedRoom = doubleRoom();
const stepRoom = doubleRoom();
const dots = new Float64Array(PARAMETERS);

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
  let [rest, trialRest] = restRooms.map((room) => room(to - from + 1));
  restOf(profile, peaks, from, to, rest);
  let cost = costFrom(rest, variance, peaks, prior, from);
  let lambda = 0.02;
  for (let round = 0; round < rounds; round++) {
    const { a, g } = normalEquations(rest, variance, peaks, prior, from, to, size);
    let improved = false;
    for (let attempt = 0; attempt < 5; attempt++) {
      const step = solveDamped(a, g, size, lambda);
      if (step) {
        const trial = peaks.map((p, k) => moved(p, step, PARAMETERS * k, from, to));
        restOf(profile, trial, from, to, trialRest);
        const trialCost = costFrom(trialRest, variance, trial, prior, from);
        if (trialCost < cost) {
          const gain = cost - trialCost;
          peaks = trial;
          [rest, trialRest] = [trialRest, rest];
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

export function costOf(
  profile: Float64Array,
  variance: Float64Array,
  peaks: readonly Peak[],
  prior: PeakPrior,
  from: number,
  to: number,
): number {
  const [room] = restRooms;
  const rest = room(to - from + 1);
  restOf(profile, peaks, from, to, rest);
  return costFrom(rest, variance, peaks, prior, from);
}

/** What peaks leave of rows from..to, into `rest`. */
function restOf(profile: Float64Array, peaks: readonly Peak[], from: number, to: number, rest: Float64Array): void {
  for (let r = from; r <= to; r++) rest[r - from] = profile[r];
  for (const p of peaks) addPeak(p, rest, from, -1);
}

function costFrom(
  rest: Float64Array,
  variance: Float64Array,
  peaks: readonly Peak[],
  prior: PeakPrior,
  from: number,
): number {
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

/** @param rest what the peaks leave of rows from..to */
function normalEquations(
  rest: Float64Array,
  variance: Float64Array,
  peaks: readonly Peak[],
  prior: PeakPrior,
  from: number,
  to: number,
  size: number,
) {
  const a = matrixRoom(size * size);
  const g = sideRoom(size);
  const rows = to - from + 1;
  // Read only where it was filled.
  const slopes = slopesRoom(size * rows);
  const spans = peaks.map((p) => span(p, from, to));
  for (let k = 0; k < peaks.length; k++)
    fillSlopes(peaks[k], spans[k], slopes.subarray(PARAMETERS * k * rows, PARAMETERS * (k + 1) * rows), from);
  const weighted = weightedRoom(rows);
  for (let p = 0; p < size; p++) {
    const k = Math.floor(p / PARAMETERS);
    const [lo, hi] = [spans[k][0] - from, spans[k][1] - from];
    let slope = 0;
    for (let i = lo, o = p * rows + lo; i <= hi; i++, o++) {
      weighted[i] = slopes[o] / variance[i + from];
      slope += weighted[i] * rest[i];
    }
    g[p] = slope;
    for (let other = 0; other <= k; other++) {
      const first = Math.max(lo, spans[other][0] - from);
      const last = Math.min(hi, spans[other][1] - from);
      dotFive(weighted, slopes, PARAMETERS * other * rows, rows, first, last, dots);
      for (let j = 0, q = PARAMETERS * other; j < PARAMETERS && q <= p; j++, q++)
        a[p * size + q] = a[q * size + p] = dots[j];
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

/**
 * Sums of products of the weighted slope with the five slopes of a peak, which begin at `o`, over rows first..last; all five
 * at once, as each sum waits for the one before it.
 */
function dotFive(
  weighted: Float64Array,
  slopes: Float64Array,
  o: number,
  rows: number,
  first: number,
  last: number,
  out: Float64Array,
): void {
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let s4 = 0;
  for (let i = first, k = o + first; i <= last; i++, k++) {
    const w = weighted[i];
    s0 += w * slopes[k];
    s1 += w * slopes[k + rows];
    s2 += w * slopes[k + 2 * rows];
    s3 += w * slopes[k + 3 * rows];
    s4 += w * slopes[k + 4 * rows];
  }
  out[0] = s0;
  out[1] = s1;
  out[2] = s2;
  out[3] = s3;
  out[4] = s4;
}

function solveDamped(a: Float64Array, g: Float64Array, size: number, lambda: number): Float64Array | null {
  const m = dampedRoom(size * size);
  m.set(a);
  for (let i = 0; i < size; i++) m[i * size + i] = m[i * size + i] * (1 + lambda) + 1e-9;
  const step = stepRoom(size);
  step.set(g);
  return solvePositive(m, size, [step]) ? step : null;
}
