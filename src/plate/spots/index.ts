import type { Spot } from "../../model/index.ts";
import type { PlateFrame } from "../frame.ts";
import type { MarkRow, SignalMap } from "../view.ts";
import { besideOf, commonAtOrigin, likeMarks } from "./around.ts";
import { detectPeaks } from "./detect.ts";
import { graphiteOn } from "./graphite.ts";
import { groupCandidates } from "./group.ts";
import { judge } from "./judge.ts";
import { pencilAtOrigin } from "./pencil.ts";
import { withoutFlanks } from "./ringed.ts";
import { type JudgedSpot, secondLook } from "./secondLook.ts";
import { trails } from "./trailing.ts";
import { limitOf, settledViews, type View } from "./views.ts";

export type { JudgedSpot } from "./secondLook.ts";

/** Candidates less likely than this are not handed on: they would only be struck out again. */
const LEAST_CONFIDENCE = 0.55;
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

/** Finds the spots of every lane, all photos of the plate together, straightened along each lane's own way. */
export function findSpots(
  maps: readonly SignalMap[],
  start: PlateFrame,
  marks: readonly (readonly MarkRow[])[] = [],
): { frame: PlateFrame; lanes: LaneSpots[] } {
  const { frame, views } = settledViews(maps, start);
  const judged = judgeAll(maps, views, frame, marks);
  const isPencil = graphiteOn(
    maps,
    frame,
    judged.flat().map(({ spot }) => spot),
  );
  const shown = ({ spot }: JudgedSpot) =>
    spot.confidence >= leastConfidence(spot.rf) && !(spot.rf < START_LINE && isPencil(spot));
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
): JudgedSpot[][] {
  const { frame, views } = settledViews(maps, start);
  return judgeAll(maps, views, frame, marks);
}

function judgeAll(
  maps: readonly SignalMap[],
  views: readonly View[],
  frame: PlateFrame,
  marks: readonly (readonly MarkRow[])[],
): JudgedSpot[][] {
  const groups = frame.tracks.map((_, lane) => {
    const candidates = views.flatMap((v, view) =>
      detectPeaks(v.profiles.profiles[lane], v.profiles.noise, v.prior, v.profiles.saturated[lane]).map((peak) => ({
        peak,
        view,
        photo: v.photo,
        significance: peak.height / v.profiles.noise[Math.round(peak.mode)],
      })),
    );
    return withoutFlanks(groupCandidates(candidates));
  });
  const common = commonAtOrigin(groups, views.length);
  const pencil = pencilAtOrigin(marks.flat(), maps[0], frame);
  const first = groups.map((inLane, lane) =>
    inLane.map((group, k) => {
      const others = inLane.filter((_, i) => i !== k).map((g) => g[0].peak);
      const look = judge(maps, views, frame, lane, group, others, {
        beside: besideOf(groups, lane, group[0].peak.mode),
        marked: likeMarks(group, common),
        pencil: { here: pencil.lanes[lane], share: pencil.share },
      });
      return { ...look, lead: group[0], mode: group[0].peak.mode };
    }),
  );
  return secondLook(first, views, frame);
}
