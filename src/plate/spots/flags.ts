import type { SpotFlag } from "../../model/index.ts";
import { type Peak, sigmaBack, sigmaFront } from "./peaks.ts";
import { RF_STEP } from "./strip.ts";

/** What a chemist should know of a spot besides its Rf. */
export function flagsOf(rf: number, peak: Peak, others: readonly Peak[]): SpotFlag[] {
  const flags: SpotFlag[] = [];
  if (rf < 0.025) flags.push("at-origin");
  if (rf > 0.965) flags.push("at-front");
  if (peak.height > 0.9) flags.push("overloaded");
  if (sigmaBack(peak) * RF_STEP > 0.07) flags.push("streak");
  if (others.some((o) => touches(peak, o))) flags.push("touching");
  return flags;
}

/** Two peaks touch where their half-height ranges meet. */
function touches(a: Peak, b: Peak): boolean {
  const [low, high] = a.mode < b.mode ? [a, b] : [b, a];
  return high.mode - low.mode < 1.1775 * (sigmaFront(low) + sigmaBack(high));
}
