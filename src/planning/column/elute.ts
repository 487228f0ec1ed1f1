import type { ColumnStep } from "../../model/index.ts";
import { retentionFactor } from "../retention/index.ts";

/** Where the middle of a band leaves the column. */
export interface Elution {
  /** mL from the first drop of eluent. */
  readonly retentionMl: number;
  /** Standard deviation of the band, mL, at the column's theoretical plates. */
  readonly sdMl: number;
  /** Index of the step whose eluent carries it out. */
  readonly step: number;
  /** How its front leaves before the eluent of a later step has come down the bed: as if that were never poured. */
  readonly early: readonly EarlyLaw[];
}

/** The law of a band that holds until `untilMl`, when the next eluent reaches the outlet. */
export interface EarlyLaw {
  readonly retentionMl: number;
  readonly sdMl: number;
  readonly untilMl: number;
}

/** Rf below which a band is taken to move at this pace, so that its volume stays finite. */
const LEAST_RF = 0.005;

/**
 * Retention volume of a component under steps of eluent. The middle of the band meets an eluent that was poured u mL
 * after the start and moves by du/(k V_M) of the column while du passes it; it is off when these sum to 1, so
 * V_R = V_M + u (the fundamental equation of gradient elution; Snyder, from memory). Isocratic it gives
 * V_R = V_M (1 + k) = V_M/R (IUPAC Gold Book R05352). The width is V_M (1 + k)/sqrt(N) with the k it leaves with.
 * @param steps sorted by `fromMl`, the first at 0; each names an Rf in 0..1 for the component
 * @param holdUpMl V_M, mL
 * @param plates theoretical plates N
 */
export function elute(component: string, steps: readonly ColumnStep[], holdUpMl: number, plates: number): Elution {
  const early: EarlyLaw[] = [];
  let left = 1;
  for (let i = 0; ; i++) {
    const step = steps[i];
    const k = retentionFactor(Math.max(LEAST_RF, step.rf[component]));
    const until = steps[i + 1]?.fromMl ?? Number.POSITIVE_INFINITY;
    const need = left * k * holdUpMl;
    const law = { retentionMl: holdUpMl + step.fromMl + need, sdMl: (holdUpMl * (1 + k)) / Math.sqrt(plates) };
    if (step.fromMl + need <= until) return { ...law, step: i, early };
    early.push({ ...law, untilMl: holdUpMl + until });
    left -= (until - step.fromMl) / (k * holdUpMl);
  }
}
