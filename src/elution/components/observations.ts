import type { LaneRef, PlateReading, Spot } from "../../model/index.ts";
import { type Feature, featuresOf, lightScales } from "./signature.ts";
import { type Twin, twins } from "./twice.ts";
import { type SpotWidth, singleLogWidth, singleWidth, type WidthModel, widthModel } from "./widths.ts";

/** A spot that may stand for a substance, as the grouping sees it. */
export interface Observation {
  /** Index in `Lane.spots`. */
  readonly spot: number;
  readonly rf: number;
  /** Variance of `rf` that this spot adds to the scatter common to all, Rf². */
  readonly extraVar: number;
  readonly width: number;
  /** ln of the width to be expected of a single spot of this amount, and how much better that explains the width than dust. */
  readonly singleLog: number;
  readonly single: number;
  /** Chance that a spot is here at all, kept off 0 and 1. */
  readonly real: number;
  /** Chance that a spot is here as the reading says, kept off 0. */
  readonly sure: number;
  /** Log amount, best light. */
  readonly logAmount: number;
  readonly features: readonly Feature[];
  /** Where another lane of the plate claims the same spot, or null. */
  readonly twin: Twin | null;
}

/** One lane with its usable spots, highest Rf first. */
export interface LaneObservation {
  readonly ref: LaneRef;
  /** Index of the plate in the order given to the grouping. */
  readonly plate: number;
  readonly label: string;
  readonly tube: number | null;
  /** Place across the plate, 0 left to 1 right. */
  readonly u: number;
  readonly spots: readonly Observation[];
  /** Log of the smallest amount that would have been found here. */
  readonly logLimit: number;
}

/** Below this Rf nothing has moved: what stays on the start line cannot have come off a column. */
const ORIGIN_RF = 0.02;

/** True for a spot that takes part: it has left the origin. */
function hasMoved(spot: Spot): boolean {
  return (
    Number.isFinite(spot.rf) && spot.rf >= ORIGIN_RF && !(spot.flags.includes("at-origin") && spot.rf < 1.5 * ORIGIN_RF)
  );
}

/** All lanes of all plates in the order given, spots that never left the origin set aside; and how wide single spots are. */
export function observe(plates: readonly PlateReading[]): { lanes: LaneObservation[]; widths: WidthModel } {
  const scales = lightScales(plates);
  const lanes = plates.flatMap((plate, p) => {
    const claimed = twins(plate);
    return plate.lanes.map((lane, l) => ({
      ref: { plate: plate.id, lane: lane.index },
      plate: p,
      label: lane.label,
      tube: lane.fraction,
      u: Math.min(1, Math.max(0, lane.x)),
      spots: lane.spots
        .map((spot, index) => ({ spot, index }))
        .filter(({ spot }) => hasMoved(spot))
        .map(({ spot, index }) => ({ ...observation(spot, index, scales), twin: claimed[l][index] }))
        .sort((a, b) => b.rf - a.rf || a.spot - b.spot),
      logLimit: Math.log(
        Math.max(
          1e-6,
          ...lane.detectionLimit
            .filter((d) => d > 0)
            .sort((a, b) => a - b)
            .slice(0, 1),
        ),
      ),
    }));
  });
  const ofSpot = (lane: { plate: number }, spot: Omit<SpotWidth, "plate">): SpotWidth => ({
    ...spot,
    plate: lane.plate,
  });
  const widths = widthModel(
    lanes.flatMap((lane) => lane.spots.map((spot) => ofSpot(lane, spot))),
    plates.length,
  );
  const withWidths = lanes.map((lane) => ({
    ...lane,
    spots: lane.spots.map((spot) => ({
      ...spot,
      singleLog: singleLogWidth(ofSpot(lane, spot), widths),
      single: singleWidth(ofSpot(lane, spot), widths),
    })),
  }));
  return { lanes: withWidths, widths };
}

function observation(
  spot: Spot,
  index: number,
  scales: ReturnType<typeof lightScales>,
): Omit<Observation, "single" | "singleLog" | "twin"> {
  const cnr = Math.max(2, ...spot.responses.map((r) => r.contrastToNoise));
  const width = Math.min(0.15, Math.max(0.015, spot.widthRf));
  // A centre is known to a fraction of the width over the contrast to noise; neighbours and overload pull it.
  const blur = (0.15 * width) / cnr;
  const pull = (spot.flags.includes("touching") ? 0.003 : 0) + (spot.flags.includes("overloaded") ? 0.003 : 0);
  const smear = spot.flags.includes("streak") ? 0.01 : 0;
  return {
    spot: index,
    rf: spot.rf,
    extraVar: blur * blur + pull * pull + smear * smear,
    width,
    real: realChance(spot, cnr),
    sure: Math.min(0.999, Math.max(0.02, spot.confidence)),
    logAmount: Math.log(Math.max(1e-6, spot.amount)),
    features: featuresOf(spot, scales),
  };
}

/** A strong spot is hardly ever dust, and the front leaves marks of its own; kept within 0.03 and 0.998. */
function realChance(spot: Spot, cnr: number): number {
  const strong = Math.max(0.15, Math.exp(-Math.max(0, cnr - 8) / 8));
  const doubt = 1 - spot.confidence * (spot.flags.includes("at-front") ? 0.5 : 1);
  return Math.min(0.998, Math.max(0.03, 1 - doubt * strong));
}
