import { levenbergMarquardt } from "ml-levenberg-marquardt";
import { emgDensity } from "../../math/emg.ts";

/** Amount of one component in one spotted tube. */
export interface Measurement {
  readonly tube: number;
  /** 0 where nothing was found. */
  readonly amount: number;
  /** Smallest amount that would have been found. */
  readonly limit: number;
}

export interface TailedPeak {
  readonly at: (tube: number) => number;
  /** Scatter of measured about fitted amounts, on the log scale. */
  readonly logSd: number;
  readonly apex: number;
  readonly sigma: number;
  readonly tau: number;
}

/** A peak that scatters more than this about the amounts does not describe them. */
const MOST_SCATTER = 0.55;
const LEAST_POINTS = 4;

/**
 * Fits an exponentially modified Gaussian (Grushka 1972, from memory) to amounts over tubes by Levenberg and Marquardt's
 * method, on log(1 + amount / limit): there the scatter of spotting, which is in proportion, is even, and tubes below
 * the limit weigh as what they are, nearly nothing.
 * @returns null where fewer than four tubes show the component or the peak does not fit
 */
export function fitTailedPeak(points: readonly Measurement[]): TailedPeak | null {
  const shown = points.filter((p) => p.amount > 0);
  if (shown.length < LEAST_POINTS) return null;
  const limit = median(points.map((p) => p.limit));
  const first = shown[0].tube;
  const last = shown[shown.length - 1].tube;
  const reach = Math.max(3, 0.5 * (last - first));
  const near = points.filter((p) => p.tube >= first - reach && p.tube <= last + reach);
  const total = shown.reduce((s, p) => s + p.amount, 0);
  const mean = shown.reduce((s, p) => s + p.amount * p.tube, 0) / total;
  const sd = Math.max(0.5, Math.sqrt(shown.reduce((s, p) => s + p.amount * (p.tube - mean) ** 2, 0) / total));
  const step = near.length > 1 ? (near[near.length - 1].tube - near[0].tube) / (near.length - 1) : 1;
  const model = ([logArea, mu, logSigma, logTau]: number[]) => {
    const area = Math.exp(logArea);
    const sigma = Math.exp(logSigma);
    const tau = Math.exp(logTau);
    return (tube: number) => Math.log1p((area * emgDensity(tube, mu, sigma, tau)) / limit);
  };
  const fit = levenbergMarquardt(
    { x: near.map((p) => p.tube), y: near.map((p) => Math.log1p(p.amount / limit)) },
    model,
    {
      initialValues: [Math.log(total * step), mean - 0.5 * sd, Math.log(0.7 * sd), Math.log(0.6 * sd)],
      minValues: [Math.log(total * step) - 2, first - 2, Math.log(0.3), Math.log(0.05)],
      maxValues: [Math.log(total * step) + 3, last + 2, Math.log(sd * 2 + 1), Math.log(sd * 4 + 1)],
      gradientDifference: [1e-3, 1e-3, 1e-3, 1e-3],
      maxIterations: 40,
      damping: 0.1,
      errorTolerance: 1e-6,
    },
  );
  const [logArea, mu, logSigma, logTau] = fit.parameterValues;
  const fitted = model(fit.parameterValues);
  const squares = near.reduce((s, p) => s + (fitted(p.tube) - Math.log1p(p.amount / limit)) ** 2, 0);
  const logSd = Math.sqrt(squares / Math.max(1, near.length - 3));
  if (!(logSd < MOST_SCATTER)) return null;
  const sigma = Math.exp(logSigma);
  const tau = Math.exp(logTau);
  const at = (tube: number) => Math.exp(logArea) * emgDensity(tube, mu, sigma, tau);
  return { at, logSd: Math.max(0.1, logSd), apex: mu + Math.min(tau, sigma), sigma, tau };
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[values.length >> 1];
}
