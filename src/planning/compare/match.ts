import type { ColumnPlan, PlannedBand } from "../../model/index.ts";
import type { BandShape, FoundBand } from "./found.ts";

export interface MatchedBand {
  readonly planned: PlannedBand | null;
  readonly found: FoundBand | null;
}

/** Rf by which a component may differ between the plate that was planned from and those of the fractions. */
const SAME_RF = 0.12;

/**
 * Which found component is which planned one: the nearest Rf first (Rf in the first eluent of the plan); where that
 * leaves some over and both sides count alike, by order of Rf instead.
 */
export function matchBands(plan: ColumnPlan, found: readonly FoundBand[]): readonly MatchedBand[] {
  const rf = plan.request.steps[0].rf;
  const candidates = plan.bands
    .flatMap((planned) => found.map((f) => ({ planned, found: f, gap: Math.abs(rf[planned.component] - f.rf) })))
    .sort((a, b) => a.gap - b.gap);
  const pairs: { planned: PlannedBand; found: FoundBand }[] = [];
  for (const c of candidates)
    if (c.gap <= SAME_RF && !pairs.some((p) => p.planned === c.planned || p.found === c.found)) pairs.push(c);
  const byRf = [...plan.bands].sort((a, b) => rf[b.component] - rf[a.component]);
  const foundByRf = [...found].sort((a, b) => b.rf - a.rf);
  if (pairs.length < found.length && found.length === plan.bands.length)
    return byRf.map((planned, i) => ({ planned, found: foundByRf[i] }));
  return [
    ...byRf.map((planned) => ({ planned, found: pairs.find((p) => p.planned === planned)?.found ?? null })),
    ...foundByRf.filter((f) => !pairs.some((p) => p.found === f)).map((f) => ({ planned: null, found: f })),
  ];
}

const LEAST_RATIO = 0.05;

/** Found over planned retention beyond the hold-up volume, >= 0.05: the ratio of the retention factors k. */
export function kRatio(plan: ColumnPlan, planned: PlannedBand, shape: BandShape): number {
  return Math.max(LEAST_RATIO, (shape.centreMl - plan.holdUpMl) / Math.max(1e-9, planned.retentionMl - plan.holdUpMl));
}

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const mid = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[mid] : (sorted[mid - 1] + sorted[mid]) / 2;
}
