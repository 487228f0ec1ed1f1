import type { LaneObservation } from "./observations.ts";
import { type Neighbourhood, neighbourhood } from "./presence.ts";
import { type FeatureSpace, featureSpace } from "./signature.ts";
import type { WidthModel } from "./widths.ts";

/** What does not change while substances are sought. */
export interface Ground {
  readonly lanes: readonly LaneObservation[];
  readonly priors: readonly Float64Array[];
  readonly around: Neighbourhood;
  readonly space: FeatureSpace;
  readonly widths: WidthModel;
}

/** What there is to explain. */
export function groundOf(
  lanes: readonly LaneObservation[],
  widths: WidthModel,
  priors: readonly Float64Array[],
): Ground {
  const space = featureSpace(lanes.flatMap((l) => l.spots.map((s) => s.features)));
  return { lanes, priors, around: neighbourhood(lanes), space, widths };
}

/** The ground with the lanes of some plates only; features and widths of the whole run hold for the part as well. */
export function portion(ground: Ground, plates: ReadonlySet<number>): Ground {
  const lanes = ground.lanes.filter((lane) => plates.has(lane.plate));
  return { ...ground, lanes, around: neighbourhood(lanes) };
}
