import type { Light, PlateReading } from "../../model/index.ts";
import type { Grouping } from "../grouping.ts";
import type { LightGains } from "./amounts.ts";

/** Smallest amount that usually is found under each light, unit of `SpotResponse.amount`: lower quartile over all lanes. */
export type UsualLimits = ReadonlyMap<Light, number>;

export function usualLimits(plates: readonly PlateReading[]): UsualLimits {
  const each = new Map<Light, number[]>();
  for (const plate of plates) {
    plate.photos.forEach(({ light }, i) => {
      const list = each.get(light) ?? [];
      for (const lane of plate.lanes) if (lane.detectionLimit[i] > 0) list.push(lane.detectionLimit[i]);
      each.set(light, list);
    });
  }
  const usual = new Map<Light, number>();
  for (const [light, list] of each)
    if (list.length > 0) usual.set(light, list.sort((a, b) => a - b)[Math.floor(list.length / 4)]);
  return usual;
}

/** Smallest amount of a component in one lane, in the units of `LaneAmount`. */
export interface LaneLimit {
  /** That the reader would have found here. */
  readonly limit: number;
  /** That a usual lane would show under the lights of this plate: what counts as visible. */
  readonly visibleFrom: number;
}

/** Limits of component `k` in lane `lane` of the grouping. */
export function laneLimit(
  plates: readonly PlateReading[],
  grouping: Grouping,
  gains: LightGains,
  usual: UsualLimits,
  lane: number,
  k: number,
): LaneLimit {
  const { plate, ref } = grouping.lanes[lane];
  const { photos, lanes } = plates[plate];
  const own = lanes.find((l) => l.index === ref.lane)!.detectionLimit;
  const least = (limits: readonly (number | undefined)[]) => {
    const each = photos.map(({ light }, i) => {
      const gain = gains.gain[k].get(light) ?? 1;
      return (limits[i] ?? Number.NaN) / (gains.scale.get(light) ?? 1) / gain;
    });
    const usable = each.filter((v) => v > 0 && Number.isFinite(v));
    return usable.length > 0 ? Math.min(...usable) : 1e-3;
  };
  return { limit: least(own), visibleFrom: least(photos.map((p) => usual.get(p.light))) };
}
