import { levenbergMarquardt } from "ml-levenberg-marquardt";
import { solvePositive } from "../../math/cholesky.ts";
import { emgDensity } from "../../math/emg.ts";
import { missChance } from "./censored.ts";
import type { PlannedPlace } from "./planned.ts";

/** Amount of one component in one spotted tube. */
export interface Measurement {
  readonly tube: number;
  /** 0 where nothing was found. */
  readonly amount: number;
  /** Smallest amount that would have been found. */
  readonly limit: number;
}

/** What is thought of a peak's shape before looking: mean and sd of the logs of width (tubes) and of tail over width. */
export interface ShapePrior {
  readonly logSigma: number;
  readonly logSigmaSd: number;
  readonly logTail: number;
  readonly logTailSd: number;
}

export interface TailedPeak {
  readonly at: (tube: number) => number;
  /** Standard deviation of the log amount at a tube, as far as the shape of the peak is in doubt. */
  readonly logSdAt: (tube: number) => number;
  /** Scatter of measured about fitted amounts, on the log scale. */
  readonly logSd: number;
  readonly mu: number;
  readonly sigma: number;
  readonly tau: number;
}

/** Scatter to be expected of log amounts: the volume spotted, the plate, the reading. */
const USUAL_SCATTER = 0.3;
/** Most of what comes off is seen: sd of the log of the whole over what the spotted tubes add up to. */
const AREA_LOG_SD = 0.8;
/** Places at which the prior, and the plan, enter as more data, told from tubes by being negative. */
const PRIOR_AT = [-1, -2, -3] as const;
const PLAN_AT = -4;
const PARAMETERS = 4;
const STEP = 1e-3;

/**
 * Fits an exponentially modified Gaussian (Grushka 1972, from memory) to amounts over tubes by Levenberg and Marquardt's
 * method. Tubes that show it count on log(1 + amount / limit), where the scatter of spotting, which is in proportion, is
 * even; tubes that do not count by how likely so much would be missed (a censored observation: Tobin 1958, from memory),
 * so that a tail just below the limit is as good as none. Width and tail have a prior, so that one or two tubes suffice.
 * How far the shape is in doubt follows from the curvature at the best fit (Laplace's approximation).
 * @param points spotted tubes, rising; those that say nothing left out
 * @param planned where a plan expects the peak, one more datum; null: nobody planned
 * @returns null where no tube shows the component
 */
export function fitTailedPeak(
  points: readonly Measurement[],
  prior: ShapePrior,
  planned: PlannedPlace | null = null,
): TailedPeak | null {
  const shown = points.filter((p) => p.amount > 0);
  if (shown.length === 0) return null;
  const byTube = new Map(points.map((p) => [p.tube, p]));
  const first = shown[0].tube;
  const last = shown[shown.length - 1].tube;
  const sigma = Math.exp(prior.logSigma);
  const reach = Math.max(3, 0.5 * (last - first), 3 * sigma);
  const near = points.filter((p) => p.tube >= first - reach && p.tube <= last + reach);
  const total = shown.reduce((s, p) => s + p.amount, 0);
  const mean = shown.reduce((s, p) => s + p.amount * p.tube, 0) / total;
  const step = near.length > 1 ? (near[near.length - 1].tube - near[0].tube) / (near.length - 1) : 1;
  const tail = Math.exp(prior.logTail) * sigma;
  const seenArea = Math.log(total * Math.max(1, step));
  const model = (parameters: readonly number[]) => {
    const [logArea, mu, logSigma, logTau] = parameters;
    const amounts = amountsOf(parameters);
    return (x: number) => {
      if (x === PRIOR_AT[0]) return (logSigma - prior.logSigma) / prior.logSigmaSd;
      if (x === PRIOR_AT[1]) return (logTau - logSigma - prior.logTail) / prior.logTailSd;
      if (x === PRIOR_AT[2]) return (logArea - seenArea) / AREA_LOG_SD;
      if (x === PLAN_AT && planned) return (peakTube(mu, Math.exp(logTau)) - planned.tube) / planned.sd;
      return residualTerm(byTube.get(x)!, amounts(x));
    };
  };
  const opinions = planned ? [...PRIOR_AT, PLAN_AT] : PRIOR_AT;
  const x = [...opinions, ...near.map((p) => p.tube)];
  const y = [...opinions.map(() => 0), ...near.map((p) => (p.amount > 0 ? residualTerm(p, p.amount) : 0))];
  const start = [seenArea, mean - 0.5 * tail, Math.log(sigma), Math.log(tail)];
  const { parameterValues } = levenbergMarquardt({ x, y }, (p: number[]) => model(p), {
    initialValues: start,
    minValues: [start[0] - 4, first - reach, Math.log(0.2), Math.log(0.05)],
    maxValues: [start[0] + 4, last + reach, Math.log(4 * sigma + 4), Math.log(8 * sigma + 4)],
    gradientDifference: new Array(PARAMETERS).fill(STEP),
    maxIterations: 25,
    damping: 0.1,
    errorTolerance: 1e-4,
  });
  const fitted = model(parameterValues);
  const squares = near.reduce((s, p, i) => s + (USUAL_SCATTER * (fitted(p.tube) - y[i + opinions.length])) ** 2, 0);
  // Few tubes fit too well: the usual scatter counts as three more.
  const logSd = Math.sqrt((squares + 3 * USUAL_SCATTER ** 2) / Math.max(3, near.length));
  const rows = gradients(parameterValues, (p) => x.map(model(p)));
  const curvature = curvatureOf(rows);
  const [, mu, logSigma, logTau] = parameterValues;
  return {
    at: amountsOf(parameterValues),
    logSdAt: (tube) => {
      const [gradient] = gradients(parameterValues, (p) => [Math.log(amountsOf(p)(tube) + 1e-300)]);
      return Math.sqrt(spread(curvature, gradient));
    },
    logSd,
    mu,
    sigma: Math.exp(logSigma),
    tau: Math.exp(logTau),
  };
}

/** About where the top of a tailed peak lies. */
export function peakTube(mu: number, tau: number): number {
  return mu + 0.5 * tau;
}

/** Amount by tube of a peak of these parameters. */
function amountsOf([logArea, mu, logSigma, logTau]: readonly number[]): (tube: number) => number {
  const [area, sigma, tau] = [Math.exp(logArea), Math.exp(logSigma), Math.exp(logTau)];
  return (tube) => area * emgDensity(tube, mu, sigma, tau);
}

/** Square root of twice the log loss of a model amount in a tube, up to the tube's own value where the component shows. */
function residualTerm(point: Measurement, amount: number): number {
  if (point.amount > 0) return Math.log1p(amount / point.limit) / USUAL_SCATTER;
  return Math.sqrt(-2 * Math.log(missChance(Math.log(amount + 1e-300), Math.log(point.limit))));
}

/** Central differences of several functions of the parameters: [function][parameter]. */
function gradients(parameters: readonly number[], of: (p: readonly number[]) => readonly number[]): Float64Array[] {
  const sides = parameters.map((_, i) => [STEP, -STEP].map((d) => of(parameters.map((v, j) => (j === i ? v + d : v)))));
  return sides[0][0].map((_, f) => Float64Array.from(sides, ([up, down]) => (up[f] - down[f]) / (2 * STEP)));
}

/** Curvature of the squared residuals, whose gradients are given, over the parameters. */
function curvatureOf(rows: readonly Float64Array[]): Float64Array {
  const n = PARAMETERS;
  const curvature = new Float64Array(n * n);
  for (const row of rows)
    for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) curvature[i * n + j] += row[i] * row[j];
  for (let i = 0; i < n; i++) curvature[i * n + i] += 1e-9;
  return curvature;
}

/** Variance of a quantity with the given gradient, were the parameters normal with this curvature. */
function spread(curvature: Float64Array, gradient: Float64Array): number {
  const solved = gradient.slice();
  if (!solvePositive(curvature.slice(), PARAMETERS, [solved])) return 1;
  return gradient.reduce((s, g, i) => s + g * solved[i], 0);
}
