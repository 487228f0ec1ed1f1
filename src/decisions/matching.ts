import type { SpotKey } from "../model/index.ts";

/** How far a thing may have moved between two readings and still be the same: in Rf, and in fractions of the plate. */
const SPOT_RF = 0.025;
const SPOT_Y = 0.02;
const COMPONENT_RF = 0.04;

/** Index of the spot that a key names among those of its lane, or null: the nearest, by Rf or by its height on the plate. */
export function sameSpot(spots: readonly { readonly rf: number; readonly y: number }[], key: SpotKey): number | null {
  return nearest(spots, (s) => Math.min(Math.abs(s.rf - key.rf) / SPOT_RF, Math.abs(s.y - key.y) / SPOT_Y));
}

/** Index of the component that stands at an Rf, or null. */
export function sameComponent(components: readonly { readonly rf: number }[], rf: number): number | null {
  return nearest(components, (c) => Math.abs(c.rf - rf) / COMPONENT_RF);
}

/** Index of the lane that lies at x, or null: within half the distance of neighbouring lanes. */
export function sameLane(lanes: readonly { readonly x: number }[], x: number): number | null {
  const sorted = lanes.map((l) => l.x).sort((a, b) => a - b);
  const gaps = sorted.slice(1).map((v, i) => v - sorted[i]);
  const reach = gaps.length > 0 ? Math.max(Math.min(...gaps) / 2, 1e-6) : 0.25;
  return nearest(lanes, (l) => Math.abs(l.x - x) / reach);
}

/** The one of least distance, where that is at most 1. */
function nearest<T>(items: readonly T[], distance: (item: T) => number): number | null {
  let best: { index: number; far: number } | null = null;
  items.forEach((item, index) => {
    const far = distance(item);
    if (far <= 1 && (best === null || far < best.far)) best = { index, far };
  });
  return (best as { index: number } | null)?.index ?? null;
}
