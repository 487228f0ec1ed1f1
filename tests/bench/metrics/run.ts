import type { Result } from "../../../src/model/index.ts";
import type { RunTruth } from "../../../src/render/index.ts";
import type { Forecast } from "./calibration.ts";
import { adjustedRand, pairCounts } from "./clustering.ts";
import { matchPlates, type PlateMatch } from "./plates.ts";
import { addTallies, type Tally } from "./score.ts";
import { type LaneScore, scoreLanes, tallyOf } from "./spots.ts";
import { poolLabels, scoreTubes, type TubeScore } from "./tubes.ts";

export interface PlateScore {
  readonly match: PlateMatch;
  readonly lanes: readonly LaneScore[];
  readonly tally: Tally;
  readonly laneCountRight: boolean;
  /** At least half of the lanes carry a mark or a spot, so that they can be counted. */
  readonly countable: boolean;
}

/** All that one reading got right and wrong. */
export interface RunScore {
  readonly truth: RunTruth;
  readonly plates: readonly PlateScore[];
  readonly spots: Tally;
  /** |dRf| of each hit. */
  readonly rfErrors: readonly number[];
  /** Adjusted Rand index of components over matched spots, or null where fewer than two were matched. */
  readonly componentAgreement: number | null;
  readonly spotForecasts: readonly Forecast[];
  readonly tubes: readonly TubeScore[];
  readonly poolPairs: Tally;
}

function scorePlate(match: PlateMatch): PlateScore {
  const lanes = scoreLanes(match);
  const { originMark } = match.truth;
  const marked = originMark === "ticks" || originMark === "crosses";
  const spotted = match.truth.lanes.filter((l) => l.spots.some((s) => s.mustFind)).length;
  return {
    match,
    lanes,
    tally: tallyOf(lanes),
    laneCountRight: match.read?.lanes.length === match.truth.lanes.length,
    countable: marked || spotted * 2 >= match.truth.lanes.length,
  };
}

/** Scores one reading of a rendered run against its truth. */
export function scoreRun(truth: RunTruth, result: Result): RunScore {
  const plates = matchPlates(truth, result).map(scorePlate);
  const lanes = plates.flatMap((p) => p.lanes);
  const pairs = lanes.flatMap((l) => l.pairs);
  const named = pairs.filter((p) => p.truth.component !== null);
  const agreement = adjustedRand(
    named.map((p) => p.truth.component!),
    named.map((p, i) => p.read.component ?? `none-${i}`),
  );
  const labels = poolLabels(truth, result);
  const pools = pairCounts(labels.truth, labels.read);
  return {
    truth,
    plates,
    spots: addTallies(plates.map((p) => p.tally)),
    rfErrors: pairs.filter((p) => p.truth.mustFind).map((p) => Math.abs(p.read.rf - p.truth.rf)),
    componentAgreement: named.length > 1 ? agreement : null,
    spotForecasts: lanes.flatMap((l) => [
      ...l.pairs.map((p) => ({ confidence: p.read.confidence, right: true })),
      ...l.invented.map((s) => ({ confidence: s.confidence, right: false })),
    ]),
    tubes: scoreTubes(truth, result, pairs),
    poolPairs: { hits: pools.both, invented: pools.onlyAnswer, missed: pools.onlyTruth },
  };
}
