import type { Policy, PolicyOutcome, TubeState } from "../../model/index.ts";
import type { Judgement } from "../judge.ts";
import { barredBy, cheapestPools, emptyLabel, LOSSES, lossRow, mixedLabel, type Weights } from "../loss.ts";
import { type Draws, interval } from "./draws.ts";

const POLICIES: readonly Policy[] = ["purity", "balance", "recovery"];

/** One stretch of tubes (indices from 0) and its label as in `loss.ts`. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly label: number;
}

export function kindOf(label: number, components: number): TubeState {
  return label === mixedLabel(components) ? "mixed" : label === emptyLabel(components) ? "empty" : "clean";
}

/**
 * Pools of smallest expected loss under a policy. A tube whose own most probable state is mixed is never put into a
 * clean pool, nor one that is clean in another component. Touching pools of one kind become one, but mixed ones only
 * where they share a component.
 */
export function poolsUnder(policy: Policy, { odds, weighed }: Judgement, weights: Weights): Stretch[] {
  const loss = LOSSES[policy];
  const table = weighed.map((o) => lossRow(o, loss, weights));
  return cheapestPools(odds, table, loss, barredBy(odds)).segments.map((s) => ({ ...s }));
}

/** What each policy would give: pools, purity of the clean ones, and recovery in them, of what is wanted or of all. */
export function outcomes(judged: Judgement, weights: Weights, draws: Draws, want: number | null): PolicyOutcome[] {
  return POLICIES.map((policy) => {
    const stretches = poolsUnder(policy, judged, weights);
    const purity: number[] = [];
    const recovery: number[] = [];
    const sums = { main: 0, kept: 0, all: 0 };
    for (const draw of draws.amounts) {
      sumUp(draw, stretches, draws.components, want, sums);
      if (sums.kept > 0) purity.push(sums.main / sums.kept);
      if (sums.all > 0) recovery.push(sums.main / sums.all);
    }
    const pools = stretches.map(({ from, to, label }) => ({
      fractions: Array.from({ length: to - from + 1 }, (_, i) => from + i + 1),
      kind: kindOf(label, weights.length),
    }));
    return { policy, pools, purity: interval(purity), recovery: interval(recovery) };
  });
}

/** Amounts of a draw: of the right component in clean pools, of any in those, and of what is wanted in all tubes. */
interface Sums {
  main: number;
  kept: number;
  all: number;
}

/** @param want index of the wanted component: then it and its pools alone count; null: all */
function sumUp(
  draw: Float64Array,
  stretches: readonly Stretch[],
  components: number,
  want: number | null,
  sums: Sums,
): void {
  let main = 0;
  let kept = 0;
  let all = 0;
  for (const { from, to, label } of stretches) {
    const clean = label < components && (want === null || label === want);
    for (let t = from; t <= to; t++) {
      for (let k = 0; k < components; k++) {
        const amount = draw[t * components + k];
        if (want === null || k === want) all += amount;
        if (!clean) continue;
        kept += amount;
        if (k === label) main += amount;
      }
    }
  }
  sums.main = main;
  sums.kept = kept;
  sums.all = all;
}
