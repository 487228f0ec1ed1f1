import { logRetention, retardation } from "../retention/index.ts";

/** ln k of one component at one volume share of the stronger solvent. */
export interface RetentionPoint {
  /** 0..1 */
  readonly share: number;
  readonly rf: number;
}

export interface RetentionEstimate {
  readonly rf: number;
  readonly low: number;
  readonly high: number;
}

/** Fall of ln k per unit of ln(share) where one composition alone was tried, and its range. Common practice, no source. */
const ASSUMED_SLOPE = { low: 1, mid: 1.5, high: 2 };
/** Smallest share the logarithmic law is used for. */
const LEAST_SHARE = 0.002;

interface Line {
  readonly at0: number;
  readonly slope: number;
  readonly misfit: number;
}

function fitLine(points: readonly (readonly [x: number, y: number])[]): Line {
  const n = points.length;
  const mx = points.reduce((s, [x]) => s + x, 0) / n;
  const my = points.reduce((s, [, y]) => s + y, 0) / n;
  const sxx = points.reduce((s, [x]) => s + (x - mx) ** 2, 0);
  const sxy = points.reduce((s, [x, y]) => s + (x - mx) * (y - my), 0);
  const slope = sxx > 0 ? sxy / sxx : 0;
  const at0 = my - slope * mx;
  return { at0, slope, misfit: points.reduce((s, [x, y]) => s + (y - at0 - slope * x) ** 2, 0) };
}

/** How one component's Rf moves with the share of the stronger solvent. */
export interface RetentionLaw {
  /** Rf expected at a volume share 0..1, with the range over the laws that the points allow. */
  readonly at: (share: number) => RetentionEstimate;
  /** Mean slope of ln k over the share: negative where the solvent taken for the stronger one is. */
  readonly slope: number;
  readonly measured: boolean;
}

/**
 * Fits ln k = ln((1 - Rf)/Rf) by the share of the stronger solvent, once linear in the share and once linear in its
 * logarithm (Soczewinski 1969 and Snyder for silica, from memory). From three compositions on the law that fits better
 * stands, with two the mean of both, with one an assumed slope; the other law gives the range.
 * `points`: at least one, distinct shares.
 */
export function fitRetention(points: readonly RetentionPoint[]): RetentionLaw {
  const estimate = (values: readonly number[], mid: number): RetentionEstimate => ({
    rf: retardation(Math.exp(mid)),
    low: retardation(Math.exp(Math.max(...values))),
    high: retardation(Math.exp(Math.min(...values))),
  });
  if (new Set(points.map((p) => p.share)).size < 2) {
    const share = Math.max(LEAST_SHARE, points[0].share);
    const level = points.reduce((sum, p) => sum + logRetention(p.rf), 0) / points.length;
    const at = (wanted: number) => {
      const step = Math.log(Math.max(LEAST_SHARE, wanted) / share);
      const by = (slope: number) => level - slope * step;
      return estimate([by(ASSUMED_SLOPE.low), by(ASSUMED_SLOPE.high)], by(ASSUMED_SLOPE.mid));
    };
    return { at, slope: -ASSUMED_SLOPE.mid / share, measured: false };
  }
  const linear = fitLine(points.map((p) => [p.share, logRetention(p.rf)]));
  const inLog = points.filter((p) => p.share >= LEAST_SHARE);
  const logFits = new Set(inLog.map((p) => p.share)).size >= 2 && inLog.length === points.length;
  const log = logFits ? fitLine(inLog.map((p) => [Math.log(p.share), logRetention(p.rf)])) : null;
  const at = (share: number) => {
    const a = linear.at0 + linear.slope * share;
    if (log === null) return estimate([a], a);
    const b = log.at0 + log.slope * Math.log(Math.max(LEAST_SHARE, share));
    const mid = points.length < 3 ? (a + b) / 2 : log.misfit < linear.misfit ? b : a;
    return estimate([a, b], mid);
  };
  return { at, slope: linear.slope, measured: true };
}
