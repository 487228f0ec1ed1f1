import type { Light, PlateReading } from "../../model/index.ts";
import type { Grouping } from "../grouping.ts";
import { type LightGains, timesVisible } from "./amounts.ts";

/** Smallest amount that counts as visible in each photo of each plate, unit of `SpotResponse.amount`; NaN where no spot tells. */
export type VisibleLimits = readonly (readonly number[])[];

/** A spot this clear tells how much would be just visible; so many of them settle it for a photo. */
const CLEAR = 5;
const ENOUGH = 4;
/** The reader overlooks little of what a person would see: what is visible is no less than this share of what it finds. */
const LEAST_VISIBLE = 0.65;

/**
 * What would be just visible, from how visible the spots of a photo are: lower quartile over them, because faint spots are
 * the smaller ones; over the light's spots on all plates where the photo has few.
 */
export function visibleLimits(plates: readonly PlateReading[]): VisibleLimits {
  const ofPhoto = plates.map((plate) =>
    plate.photos.map((_, i) =>
      plate.lanes.flatMap((lane) =>
        lane.spots.flatMap(({ responses }) => {
          const own = responses.find((r) => r.photo === i);
          return own && own.amount > 0 && own.contrastToNoise > CLEAR ? [own.amount / timesVisible(own)] : [];
        }),
      ),
    ),
  );
  const ofLight = (light: Light) =>
    plates.flatMap((plate, p) => plate.photos.flatMap((photo, i) => (photo.light === light ? ofPhoto[p][i] : [])));
  return plates.map((plate, p) =>
    plate.photos.map(({ light }, i) => {
      const own = ofPhoto[p][i].length >= ENOUGH ? ofPhoto[p][i] : ofLight(light);
      return own.length > 0 ? [...own].sort((a, b) => a - b)[Math.floor(own.length / 4)] : Number.NaN;
    }),
  );
}

/** Smallest amount of a component in one lane, in the units of `LaneAmount`. */
export interface LaneLimit {
  /** That the reader would have found here. */
  readonly limit: number;
  /** That counts as visible under the lights of this plate. */
  readonly visibleFrom: number;
}

/** Limits of component `k` in lane `lane` of the grouping. */
export function laneLimit(
  plates: readonly PlateReading[],
  grouping: Grouping,
  gains: LightGains,
  visible: VisibleLimits,
  lane: number,
  k: number,
): LaneLimit {
  const { plate, ref } = grouping.lanes[lane];
  const { photos, lanes } = plates[plate];
  const own = lanes.find((l) => l.index === ref.lane)!.detectionLimit;
  const least = (limits: readonly number[]) => {
    const each = photos.map(({ light }, i) => {
      const gain = gains.gain[k].get(light) ?? 1;
      return limits[i] / (gains.scale.get(light) ?? 1) / gain;
    });
    const usable = each.filter((v) => v > 0 && Number.isFinite(v));
    return usable.length > 0 ? Math.min(...usable) : 1e-3;
  };
  const limit = least(own);
  const visibleFrom = least(photos.map((_, i) => visible[plate][i] || own[i]));
  return { limit, visibleFrom: Math.max(visibleFrom, LEAST_VISIBLE * limit) };
}
