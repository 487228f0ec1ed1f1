import { levenbergMarquardt } from "ml-levenberg-marquardt";
import { emgDensity } from "../../math/emg.ts";
import { missChance } from "./censored.ts";

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
  readonly mu: number;
  readonly sigma: number;
  readonly tau: number;
}

/** Scatter to be expected of log amounts: the volume spotted, the plate, the reading. */
const USUAL_SCATTER = 0.3;
/** What is thought of width and tail before looking (sds of their logs). */
const SIGMA_LOG_SD = 0.5;
const TAIL = 0.7;
const TAIL_LOG_SD = 0.7;
/** Most of what comes off is seen: sd of the log of the whole over what the spotted tubes add up to. */
const AREA_LOG_SD = 0.8;

/**
 * Fits an exponentially modified Gaussian (Grushka 1972, from memory) to amounts over tubes by Levenberg and Marquardt's
 * method. Tubes that show it count on log(1 + amount / limit), where the scatter of spotting, which is in proportion, is
 * even; tubes that do not count by how likely so much would be missed (a censored observation: Tobin 1958, from memory),
 * so that a tail just below the limit is as good as none. Width and tail have a prior: one or two tubes suffice.
 * @param points spotted tubes, rising; those that say nothing left out
 * @param sigma width to be expected, in tubes
 * @returns null where no tube shows the component
 */
export function fitTailedPeak(points: readonly Measurement[], sigma: number): TailedPeak | null {
  const shown = points.filter((p) => p.amount > 0);
  if (shown.length === 0) return null;
  const byTube = new Map(points.map((p) => [p.tube, p]));
  const first = shown[0].tube;
  const last = shown[shown.length - 1].tube;
  const reach = Math.max(3, 0.5 * (last - first), 3 * sigma);
  const near = points.filter((p) => p.tube >= first - reach && p.tube <= last + reach);
  const total = shown.reduce((s, p) => s + p.amount, 0);
  const mean = shown.reduce((s, p) => s + p.amount * p.tube, 0) / total;
  const step = near.length > 1 ? (near[near.length - 1].tube - near[0].tube) / (near.length - 1) : 1;
  const tail = TAIL * sigma;
  // The prior enters as three more data, told from tubes by their place.
  const seenArea = Math.log(total * Math.max(1, step));
  const model = ([logArea, mu, logSigma, logTau]: number[]) => {
    const area = Math.exp(logArea);
    const s = Math.exp(logSigma);
    const tau = Math.exp(logTau);
    return (x: number) => {
      if (x === -1) return logSigma / SIGMA_LOG_SD;
      if (x === -3) return logArea / AREA_LOG_SD;
      if (x === -2) return (logTau - logSigma) / TAIL_LOG_SD;
      return residualTerm(byTube.get(x)!, area * emgDensity(x, mu, s, tau));
    };
  };
  const start = [seenArea, mean - 0.5 * tail, Math.log(sigma), Math.log(tail)];
  const fit = levenbergMarquardt(
    {
      x: [-1, -2, -3, ...near.map((p) => p.tube)],
      y: [
        Math.log(sigma) / SIGMA_LOG_SD,
        Math.log(TAIL) / TAIL_LOG_SD,
        seenArea / AREA_LOG_SD,
        ...near.map((p) => (p.amount > 0 ? residualTerm(p, p.amount) : 0)),
      ],
    },
    model,
    {
      initialValues: start,
      minValues: [start[0] - 4, first - reach, Math.log(0.2), Math.log(0.05)],
      maxValues: [start[0] + 4, last + reach, Math.log(4 * sigma + 4), Math.log(8 * sigma + 4)],
      gradientDifference: [1e-3, 1e-3, 1e-3, 1e-3],
      maxIterations: 25,
      damping: 0.1,
      errorTolerance: 1e-4,
    },
  );
  const [logArea, mu, logSigma, logTau] = fit.parameterValues;
  const fitted = model(fit.parameterValues);
  const squares = near.reduce((s, p) => {
    const aim = p.amount > 0 ? residualTerm(p, p.amount) : 0;
    return s + (USUAL_SCATTER * (fitted(p.tube) - aim)) ** 2;
  }, 0);
  // Few tubes fit too well: the usual scatter counts as three more.
  const logSd = Math.sqrt((squares + 3 * USUAL_SCATTER ** 2) / Math.max(3, near.length));
  const s = Math.exp(logSigma);
  const tau = Math.exp(logTau);
  return { at: (tube) => Math.exp(logArea) * emgDensity(tube, mu, s, tau), logSd, mu, sigma: s, tau };
}

/** Square root of twice the log loss of a model amount in a tube, up to the tube's own value where the component shows. */
function residualTerm(point: Measurement, model: number): number {
  if (point.amount > 0) return Math.log1p(model / point.limit) / USUAL_SCATTER;
  const missed = missChance(Math.log(model + 1e-300), Math.log(point.limit));
  return Math.sqrt(-2 * Math.log(missed));
}
