import { brierScore, expectedCalibrationError } from "./calibration.ts";
import type { RunScore } from "./run.ts";
import { addTallies, f1, mean, median, precision, recall } from "./score.ts";

/** The figures of one level. Shares and errors in 0..1; NaN where nothing was to be judged. */
export interface LevelSummary {
  readonly runs: number;
  readonly photos: number;
  readonly platesFound: number;
  /** Plates whose top was taken for another side. */
  readonly platesTurned: number;
  readonly cornerErrorMedian: number;
  readonly laneCountRight: number;
  readonly spotPrecision: number;
  readonly spotRecall: number;
  readonly spotF1: number;
  readonly rfErrorMean: number;
  readonly componentAgreement: number;
  readonly tubeStateRight: number;
  readonly mixedInCleanPools: number;
  readonly cleanThrownAway: number;
  readonly poolPairF1: number;
  readonly tubeCalibrationError: number;
  readonly tubeBrier: number;
  readonly spotCalibrationError: number;
  readonly spotBrier: number;
}

const share = <T>(items: readonly T[], test: (item: T) => boolean) => mean(items.map((item) => (test(item) ? 1 : 0)));

/** Gathers the scores of all runs of a level; spots, tubes and plates count alike wherever they stand. */
export function summarise(scores: readonly RunScore[]): LevelSummary {
  const plates = scores.flatMap((s) => s.plates);
  const sightings = plates.flatMap((p) => p.match.sightings);
  const spots = addTallies(scores.map((s) => s.spots));
  const tubes = scores.flatMap((s) => s.tubes);
  const spotForecasts = scores.flatMap((s) => s.spotForecasts);
  const tubeForecasts = tubes.map((t) => t.forecast);
  return {
    runs: scores.length,
    photos: scores.reduce((n, s) => n + s.truth.photos.length, 0),
    platesFound: share(sightings, (s) => s.found),
    platesTurned: share(
      sightings.filter((s) => s.found),
      (s) => s.turned !== 0,
    ),
    cornerErrorMedian: median(sightings.flatMap((s) => (s.cornerError === null ? [] : [s.cornerError]))),
    laneCountRight: share(
      plates.filter((p) => p.countable),
      (p) => p.laneCountRight,
    ),
    spotPrecision: precision(spots),
    spotRecall: recall(spots),
    spotF1: f1(spots),
    rfErrorMean: mean(scores.flatMap((s) => s.rfErrors)),
    componentAgreement: mean(scores.flatMap((s) => (s.componentAgreement === null ? [] : [s.componentAgreement]))),
    tubeStateRight: share(tubes, (t) => t.stateRight),
    mixedInCleanPools: share(
      tubes.filter((t) => t.truth.state === "mixed"),
      (t) => t.mixedInClean,
    ),
    cleanThrownAway: share(
      tubes.filter((t) => t.truth.state === "clean"),
      (t) => t.thrownAway,
    ),
    poolPairF1: f1(addTallies(scores.map((s) => s.poolPairs))),
    tubeCalibrationError: expectedCalibrationError(tubeForecasts),
    tubeBrier: brierScore(tubeForecasts),
    spotCalibrationError: expectedCalibrationError(spotForecasts),
    spotBrier: brierScore(spotForecasts),
  };
}
