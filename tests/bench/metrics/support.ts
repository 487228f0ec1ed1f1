import type { ResultSpot } from "../../../src/model/index.ts";
import type { LaneTruth, SpotTruth } from "../../../src/render/index.ts";

/** Spots and lanes made by hand for the tests of the metrics. */
export function trueSpot(rf: number, mustFind = true, component: string | null = "c1"): SpotTruth {
  return { rf, x: 0.5, y: 1 - rf, component, amount: 1, visibility: [], mustFind, hidden: false };
}

export function readSpot(rf: number, component: string | null = "A", confidence = 0.9): ResultSpot {
  const shape = { x: 0.5, y: 1 - rf, width_rf: 0.05, width_x: 0.05, tailing: 1 };
  return { rf, rf_sd: 0.005, amount: 1, amount_sd: 0.1, component, confidence, flags: [], lights: ["uv254"], ...shape };
}

export function laneOf(spots: readonly SpotTruth[], index = 1, fraction: number | null = 1): LaneTruth {
  return { index, label: String(fraction ?? "crude"), fraction, x: index / 10, spots };
}
