import { convolved } from "../../math/convolve.ts";
import { costOf, fitPeaks, type PeakPrior } from "./fitPeaks.ts";
import { addPeak, type Peak, sigmaBack, sigmaFront } from "./peaks.ts";
import { joinedPlateaus } from "./plateau.ts";
import { shoulders } from "./split.ts";
import { RF_STEPS, rowOfRf } from "./strip.ts";

/** Rows in which spots are looked for. */
export const FROM = Math.max(0, Math.round(rowOfRf(-0.045)));
export const TO = Math.min(RF_STEPS - 1, Math.round(rowOfRf(1.03)));
/** A profile is never a sum of ideal peaks: this share of the signal counts as misfit, not as evidence. */
const MISFIT = 0.07;
/** The same where the camera was at its limit: how high the peak truly is, only its flanks can tell. */
const SATURATED_MISFIT = 2;
const MOST_PEAKS = 9;

/** Gaussian smoothing of profiles, sigma in rows. */
export function smoothing(sigma: number): (values: Float64Array) => Float64Array {
  const r = Math.ceil(3 * sigma);
  const kernel = Float64Array.from({ length: 2 * r + 1 }, (_, i) => Math.exp(-((i - r) ** 2) / (2 * sigma * sigma)));
  const norm = kernel.reduce((a, b) => a + b, 0);
  return (values) => {
    const smooth = convolved(values, kernel);
    for (let i = 0; i < smooth.length; i++) smooth[i] /= norm;
    return smooth;
  };
}

const smoothed = smoothing(2);

/** Local maxima 1.6 noise widths high that rise out of both neighbouring valleys by 1.1, and by 3 % of their own height. */
function maxima(values: Float64Array, noise: Float64Array): number[] {
  const found: number[] = [];
  for (let r = FROM + 1; r < TO; r++) {
    const v = values[r];
    if (v < 1.6 * noise[r] || v < values[r - 1] || v <= values[r + 1]) continue;
    const need = Math.max(1.1 * noise[r], 0.03 * v);
    if (v - valley(values, r, -1) >= need && v - valley(values, r, 1) >= need) found.push(r);
  }
  return found;
}

/** Lowest value on the way from r in one direction until something higher stands there. */
function valley(values: Float64Array, r: number, direction: 1 | -1): number {
  let low = values[r];
  for (let i = r + direction; i >= FROM && i <= TO; i += direction) {
    if (values[i] > values[r]) break;
    if (values[i] < low) low = values[i];
  }
  return low;
}

/**
 * Peaks of one lane's profile, their number chosen by evidence: local maxima first, then what the residual still
 * shows (shoulders), each kept only where it lowers the cost by more than its parameters are worth
 * (Schwarz 1978, Annals of Statistics 6, 461).
 * @param noise standard deviation of the profile over bare ground, per row
 * @param saturated 1 for the rows whose signal is a lower bound only; null: none
 */
export function detectPeaks(
  profile: Float64Array,
  noise: Float64Array,
  prior: PeakPrior,
  saturated: Uint8Array | null = null,
): Peak[] {
  const { variance, smooth } = weighed(profile, noise, saturated);
  const seeds = seedsOf(smooth, noise, prior);
  if (seeds.length === 0) return [];
  let fit = fitPeaks(profile, variance, seeds, prior, FROM, TO);
  for (let extra = 0; extra < 4 && fit.peaks.length < MOST_PEAKS; extra++) {
    const residual = profile.slice();
    for (const p of fit.peaks) addPeak(p, residual, 0, -1);
    const smoothResidual = smoothed(residual);
    let top = -1;
    for (let r = FROM; r <= TO; r++) {
      const z = smoothResidual[r] / Math.sqrt(variance[r]);
      if (z > 1.2 && (top < 0 || z > smoothResidual[top] / Math.sqrt(variance[top]))) top = r;
    }
    if (top < 0) break;
    const trial = fitPeaks(profile, variance, [...fit.peaks, seedPeak(smoothResidual, top, prior)], prior, FROM, TO, 7);
    if (fit.cost - trial.cost < EVIDENCE) break;
    fit = trial;
  }
  const kept = prune(profile, variance, splitOdd(fit.peaks, { profile, smooth, noise, variance, prior }), prior);
  const { peaks, joined } = joinedPlateaus(kept, smooth);
  return joined ? [...fitPeaks(profile, variance, peaks, prior, FROM, TO, 7).peaks] : peaks;
}

interface Lane extends WeighedProfile {
  readonly prior: PeakPrior;
}

/** The peaks, with such as are broad or lean put as the spots that their shoulders show, where these fit better. */
function splitOdd(peaks: readonly Peak[], { profile, smooth, noise, variance, prior }: Lane): readonly Peak[] {
  let best = { peaks, cost: costOf(profile, variance, peaks, prior, FROM, TO) };
  for (const { instead, rows } of shoulders(peaks, smooth, noise, prior)) {
    const others = best.peaks.filter((p) => !instead.includes(p));
    // Some of them may have been split already.
    if (others.length + instead.length > best.peaks.length) continue;
    const seeds = rows.map((r) => seedPeak(smooth, r, prior));
    const trial = fitPeaks(profile, variance, [...others, ...seeds], prior, FROM, TO);
    if (best.cost - trial.cost > EVIDENCE * Math.max(0, seeds.length - instead.length)) best = trial;
  }
  return best.peaks;
}

/**
 * The local maxima of a profile as peaks, fitted together but not questioned, where one of them is higher than
 * `least`: enough to tell what the plate's clear spots look like.
 */
export function clearPeaks(
  profile: Float64Array,
  noise: Float64Array,
  prior: PeakPrior,
  least: number,
): readonly Peak[] {
  const { variance, smooth } = weighed(profile, noise, null);
  const seeds = seedsOf(smooth, noise, prior);
  if (!seeds.some((p) => p.height > least)) return [];
  return fitPeaks(profile, variance, seeds, prior, FROM, TO, 6).peaks;
}

/** A lane's profile with what its rows are worth in a fit. */
export interface WeighedProfile {
  readonly profile: Float64Array;
  /** The profile, smoothed. */
  readonly smooth: Float64Array;
  /** Standard deviation of the profile over bare ground. */
  readonly noise: Float64Array;
  readonly variance: Float64Array;
}

/** @param saturated 1 for the rows whose signal is a lower bound only; null: none */
export function weighed(profile: Float64Array, noise: Float64Array, saturated: Uint8Array | null): WeighedProfile {
  const smooth = smoothed(profile);
  const variance = new Float64Array(profile.length);
  for (let r = 0; r < variance.length; r++) {
    const misfit = saturated?.[r] ? SATURATED_MISFIT : MISFIT;
    variance[r] = 4 * noise[r] ** 2 + (misfit * Math.max(smooth[r], 0)) ** 2;
  }
  return { profile, smooth, noise, variance };
}

function seedsOf(smooth: Float64Array, noise: Float64Array, prior: PeakPrior): Peak[] {
  return maxima(smooth, noise)
    .map((r) => seedPeak(smooth, r, prior))
    .sort((a, b) => b.height - a.height)
    .slice(0, MOST_PEAKS);
}

/** Fall in cost that the parameters of a peak among others must buy: 5 ln n over a spot's worth of rows, doubled. */
const EVIDENCE = 24;

function seedPeak(smooth: Float64Array, row: number, prior: PeakPrior): Peak {
  const height = Math.max(smooth[row], 1e-6);
  const half = (d: 1 | -1) => {
    let i = row;
    while (i > FROM && i < TO && smooth[i] > 0.6 * height && Math.abs(i - row) < 40) i += d;
    return Math.abs(i - row);
  };
  const width = Math.min(half(1), half(-1));
  const logSigma = Math.min(Math.max(Math.log(Math.max(width, 1)), prior.logSigma - 0.7), prior.logSigma + 0.7);
  return { height, mode: row, logSigma, tail: prior.tail, flat: 0.05 };
}

/** Drops, weakest first, peaks whose absence costs less than their parameters. */
function prune(profile: Float64Array, variance: Float64Array, peaks: readonly Peak[], prior: PeakPrior): Peak[] {
  let kept = [...peaks];
  let tried = 0;
  while (tried < kept.length) {
    const weakest = [...kept].sort((a, b) => a.height - b.height)[tried];
    const others = kept.filter((p) => p !== weakest);
    const near = others.some(
      (p) => Math.abs(p.mode - weakest.mode) < 2.5 * Math.max(sigmaBack(p), sigmaFront(p), sigmaBack(weakest)),
    );
    const cost = costOf(profile, variance, kept, prior, FROM, TO);
    const without = near
      ? fitPeaks(profile, variance, others, prior, FROM, TO, 6)
      : { peaks: others, cost: costOf(profile, variance, others, prior, FROM, TO) };
    if (without.cost - cost < (near ? EVIDENCE : 6)) kept = [...without.peaks];
    else tried++;
  }
  return kept.sort((a, b) => a.mode - b.mode);
}
