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
  /** [lane] the lane that claims the same spot, for each spot that two claim: [spot, other lane]. */
  readonly twice: readonly (readonly (readonly [spot: number, lane: number])[])[];
}

/** What there is to explain. */
export function groundOf(
  lanes: readonly LaneObservation[],
  widths: WidthModel,
  priors: readonly Float64Array[],
): Ground {
  const space = featureSpace(lanes.flatMap((l) => l.spots.map((s) => s.features)));
  return { lanes, priors, around: neighbourhood(lanes), space, widths, twice: twiceClaimed(lanes) };
}

/** The ground with the lanes of some plates only; features and widths of the whole run hold for the part as well. */
export function portion(ground: Ground, plates: ReadonlySet<number>): Ground {
  const lanes = ground.lanes.filter((lane) => plates.has(lane.plate));
  return { ...ground, lanes, around: neighbourhood(lanes), twice: twiceClaimed(lanes) };
}

function twiceClaimed(lanes: readonly LaneObservation[]): (readonly [number, number])[][] {
  return lanes.map((lane) =>
    lane.spots.flatMap(({ twin }, i) => {
      const other = twin ? lanes.findIndex((l) => l.plate === lane.plate && l.ref.lane === twin.lane) : -1;
      return other >= 0 ? [[i, other] as const] : [];
    }),
  );
}
