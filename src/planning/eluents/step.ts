import type { StepSuggestion, TrialAssessment, TrialSpot } from "../../model/index.ts";
import { LIMIT_PLATES } from "../column/plates.ts";
import { columnVolumes } from "../retention/index.ts";
import type { Family } from "./next.ts";
import { describeMixture } from "./parseEluent.ts";

/** A component below this Rf needs more than ten hold-up volumes: it stays put. */
const STAYS_PUT = 0.1;
/** Rf at which the slow component comes off quickly after the change, without everything else rushing along. */
const OFF_RF = 0.5;
/** Relative width (standard deviation over retention) of a band on a hand-packed column. */
const SPREAD = 1 / Math.sqrt(LIMIT_PLATES);

function fromTried(
  slow: readonly string[],
  trials: readonly TrialAssessment[],
): { text: string; expected: { component: string; rf: number }[] } | null {
  const rated = trials.flatMap((trial) => {
    const spots = slow.flatMap((id) => trial.spots.find((spot) => spot.component === id) ?? []);
    if (spots.length < slow.length) return [];
    const least = Math.min(...spots.map((spot) => spot.rf));
    return least >= 0.25 ? [{ trial, spots, off: Math.abs(least - OFF_RF) }] : [];
  });
  const best = rated.sort((a, b) => a.off - b.off)[0];
  if (!best) return null;
  return {
    text: best.trial.eluent.text,
    expected: best.spots.map((spot) => ({ component: spot.component, rf: spot.rf })),
  };
}

function fromLaw(
  slow: readonly string[],
  family: Family | undefined,
): { text: string; expected: { component: string; rf: number }[] } | null {
  const laws = slow.flatMap((id) => family?.laws.get(id) ?? []);
  if (!family || laws.length < slow.length) return null;
  const most = Math.min(1, 4 * Math.max(...family.members.map((m) => m.share)));
  let share = most;
  for (let i = 100; i > 0; i--) {
    const candidate = (most * i) / 100;
    if (Math.min(...laws.map((law) => law.at(candidate).rf)) < OFF_RF) break;
    share = candidate;
  }
  return {
    text: describeMixture(family.weak, family.strong, share),
    expected: slow.map((component, i) => ({ component, rf: laws[i].at(share).rf })),
  };
}

/**
 * A step gradient where, in the best eluent, something runs well and something else stays put (common practice: change
 * to a more polar eluent once the faster one is off). Null where nothing stays put or nothing runs.
 */
export function suggestStep(
  best: TrialAssessment,
  trials: readonly TrialAssessment[],
  family: Family | undefined,
  nameOf: (id: string) => string,
): StepSuggestion | null {
  const runs = best.spots.filter((spot: TrialSpot) => spot.rf >= STAYS_PUT);
  const slow = best.spots.filter((spot) => spot.rf < STAYS_PUT).map((spot) => spot.component);
  if (slow.length === 0 || runs.length === 0) return null;
  const stronger = trials.filter((trial) => trial !== best);
  const second = fromTried(slow, stronger) ?? fromLaw(slow, family);
  if (!second) return null;
  const last = runs[runs.length - 1];
  const change = columnVolumes(last.rf) * (1 + 2 * SPREAD);
  return {
    first: best.eluent,
    second: second.text,
    changeAtColumnVolumes: change,
    staysPut: slow,
    expected: second.expected,
    reason: `In ${best.eluent.text} ${slow.map(nameOf).join(", ")} stays put; start there and, once ${nameOf(last.component)} is off (after about ${change.toFixed(1)} column volumes), change to ${second.text}.`,
  };
}
