import { saidOf, trackDensity } from "./trackDensity.ts";

/** A lane of a plate with its spots, as they are followed over the run. */
export interface TrackedLane {
  readonly tube: number | null;
  readonly label: string;
  readonly spots: readonly { readonly rf: number; readonly confidence: number }[];
}

export interface TrackedPlate {
  /** Probability that its lines are right. */
  readonly linesSure: number;
  readonly lanes: readonly TrackedLane[];
}

/** Of lanes of which others say less it is not known where their spots should be. */
const SAID = 0.4;

/**
 * How well the spots of some plates run on from those of others, in lanes of which those say something: the sum of what `onTrack` says
 * of each spot, by how likely it is one.
 * @returns the sum, of how many spots, and in how many lanes
 */
export function runOn(
  own: readonly TrackedPlate[],
  others: readonly TrackedPlate[],
): { readonly sum: number; readonly spots: number; readonly lanes: number } {
  const shown = shownBy(others);
  const told = own.flatMap(({ lanes }) => lanes).filter((lane) => saidOf(lane, shown) >= SAID);
  let [sum, spots] = [0, 0];
  for (const lane of told) {
    const density = trackDensity(lane, shown);
    for (const { rf, confidence } of lane.spots) {
      if (rf <= OFF_ORIGIN) continue;
      sum += confidence * density(rf);
      spots++;
    }
  }
  return { sum, spots, lanes: told.length };
}

/** Marks on the start line follow no substance. */
const OFF_ORIGIN = 0.02;
/** What a plate of which the lines are surely wrong still says: of its own lanes to each other all holds. */
const LEAST_SAID = 0.3;

/**
 * How well each spot of a run lies on the tracks of the others: ln of the density of its Rf, as the spots of all other lanes make one
 * expect it there, over that of a spot anywhere. Near 2 on a track that many show, below 0 off all of them.
 * @returns by plate, lane and spot
 */
export function onTrack(plates: readonly TrackedPlate[]): number[][][] {
  const noTubes = plates.every(({ lanes }) => lanes.every(({ tube }) => tube === null));
  const shown = shownBy(plates);
  return plates.map((plate) =>
    plate.lanes.map((lane) => {
      // Plates that show no column, of scouting say, may have run in different eluents.
      const others = shown.filter((s) => s.lane !== lane && (!noTubes || s.plate === plate));
      const density = trackDensity(lane, others);
      return lane.spots.map((s) => density(s.rf));
    }),
  );
}

function shownBy(plates: readonly TrackedPlate[]) {
  return plates.flatMap((plate) =>
    plate.lanes.flatMap((lane) => {
      const said = LEAST_SAID + (1 - LEAST_SAID) * plate.linesSure;
      return lane.spots
        .filter((s) => s.rf > OFF_ORIGIN)
        .map((s) => ({ rf: s.rf, tube: lane.tube, label: lane.label, weight: s.confidence * said, lane, plate }));
    }),
  );
}
