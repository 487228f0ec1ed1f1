import type { Spot } from "../../model/index.ts";
import type { PlateFrame } from "../frame.ts";
import type { MarkRow, SignalMap } from "../view.ts";
import { figureUnder } from "./figures.ts";
import { graphiteOn } from "./graphite.ts";
import { lookAtLanes } from "./lookAtLanes.ts";
import { type JudgedSpot, secondLook } from "./secondLook.ts";
import { trails } from "./trailing.ts";
import { limitOf, settledViews, type View } from "./views.ts";

export type { JudgedSpot } from "./secondLook.ts";

/** Candidates less likely than this are not handed on: they would only be struck out again. */
const LEAST_CONFIDENCE = 0.5;
/** Rf below which a spot stands on the start line. */
const START_LINE = 0.025;
/**
 * On the start line, where pencil stands on nearly every plate, only what is clearly no mark is handed on; just above it, where
 * streaks and ticks end, what is clear.
 */
const LEAST_LOW = [
  { below: START_LINE, confidence: 0.95 },
  { below: 0.05, confidence: 0.9 },
] as const;

/** Spots of one lane and what would have been missed there. */
export interface LaneSpots {
  readonly spots: readonly Spot[];
  readonly detectionLimit: readonly number[];
}

/**
 * Finds the spots of every lane, all photos of the plate together, straightened along each lane's own way.
 * @param mixtures which lanes are said to show no tube but the crude mixture or the like; left out: none
 */
export function findSpots(
  maps: readonly SignalMap[],
  start: PlateFrame,
  marks: readonly (readonly MarkRow[])[] = [],
  mixtures: readonly boolean[] = [],
): { frame: PlateFrame; lanes: LaneSpots[] } {
  const { frame, views } = settledViews(maps, start);
  const judged = secondLook(lookAtLanes(maps, views, frame, marks), views, frame, mixtures);
  const isPencil = graphiteOn(
    maps,
    frame,
    judged.flat().map(({ spot }) => spot),
  );
  const isFigure = figureUnder(maps, frame, marks);
  const shown = ({ spot }: JudgedSpot) =>
    spot.confidence >= leastConfidence(spot.rf) && !(spot.rf < START_LINE && isPencil(spot)) && !isFigure(spot);
  const lanes = judged.map((lane) => ({
    spots: lane
      .filter((one) => shown(one) && !trails(one, lane))
      .map((j) => j.spot)
      .sort((a, b) => a.rf - b.rf),
    detectionLimit: maps.map((_, photo) => limitOf(views.find((v) => v.photo === photo) as View, frame)),
  }));
  return { frame, lanes };
}

function leastConfidence(rf: number): number {
  return LEAST_LOW.find(({ below }) => rf < below)?.confidence ?? LEAST_CONFIDENCE;
}

/** Every candidate of every lane, likely or not: for fitting the confidence. */
export function candidateSpots(
  maps: readonly SignalMap[],
  start: PlateFrame,
  marks: readonly (readonly MarkRow[])[] = [],
  mixtures: readonly boolean[] = [],
): JudgedSpot[][] {
  const { frame, views } = settledViews(maps, start);
  return secondLook(lookAtLanes(maps, views, frame, marks), views, frame, mixtures);
}
