import { upperMedian } from "../../math/median.ts";
import type { Light } from "../../model/index.ts";
import type { PlateFrame } from "../frame.ts";
import type { SignalMap } from "../view.ts";
import { clearPeaks } from "./detect.ts";
import type { PeakPrior } from "./fitPeaks.ts";
import { type Aspect, type LaneProfiles, laneProfiles } from "./profile.ts";
import { recentred } from "./recentre.ts";
import { shapeOf } from "./shape.ts";
import { RF_STEP, rfOfRow } from "./strip.ts";

/** Before any spot is known: about 5 % of the way wide, a little tailed. Widths in rows of the Rf grid. */
const WIDE_PRIOR: PeakPrior = { logSigma: Math.log(6.5), logSigmaSd: 0.6, tail: 0.05, tailSd: 0.3, flatSd: 0.4 };
/** Standard deviation of a usual spot across its lane, in pitches: about half a lane wide. */
const USUAL_SIGMA = 0.19;
/** One way of looking at one photo: its lanes straightened, and what its spots usually look like. */
export interface View {
  readonly photo: number;
  readonly light: Light;
  readonly profiles: LaneProfiles;
  readonly prior: PeakPrior;
}

/**
 * Two looks: the first with a usual spot's width on the lanes as found, the second with the width that the clear
 * spots have, on lanes moved to where their clear spots are.
 */
export function settledViews(maps: readonly SignalMap[], start: PlateFrame): { frame: PlateFrame; views: View[] } {
  const first = viewsOf(maps, start, USUAL_SIGMA);
  const clear = first.flatMap((view) =>
    start.tracks.flatMap((_, lane) => {
      const { profiles, noise, typicalNoise } = view.profiles;
      const peaks = clearPeaks(profiles[lane], noise, view.prior, 7 * typicalNoise);
      return peaks
        .filter((p) => p.height > 7 * view.profiles.noise[Math.round(p.mode)])
        .filter((p) => rfOfRow(p.mode) > 0.04 && rfOfRow(p.mode) < 0.94)
        .map((p) => ({
          lane,
          rf: rfOfRow(p.mode),
          shape: shapeOf(
            view.profiles.strips[lane],
            p,
            peaks.filter((o) => o !== p),
          ),
        }))
        .filter((s) => s.shape.fill > 0.6 && s.shape.width > 0.12 && s.shape.width < 0.9);
    }),
  );
  if (clear.length < 2) return { frame: start, views: first };
  const sigma = Math.min(0.24, Math.max(0.09, upperMedian(clear.map((s) => s.shape.width)) / 2.355));
  const frame = recentred(
    start,
    clear.map((s) => ({ lane: s.lane, rf: s.rf, offset: s.shape.offset })),
  );
  return { frame, views: viewsOf(maps, frame, sigma) };
}

function viewsOf(maps: readonly SignalMap[], frame: PlateFrame, spotSigma: number): View[] {
  return maps.flatMap((map, photo) => {
    const aspects: Aspect[] = [{ plane: map.mix, noise: map.noise, saturated: map.saturated }];
    if (map.counter) aspects.push(map.counter);
    return aspects.map((aspect) => {
      const profiles = laneProfiles(aspect, frame, spotSigma);
      return { photo, light: map.light, profiles, prior: platePrior(profiles) };
    });
  });
}

/** Widths and tailing typical of this aspect's clear spots, as a prior for the faint ones. */
function platePrior(view: LaneProfiles): PeakPrior {
  const strong = view.profiles
    .flatMap((p) => clearPeaks(p, view.noise, WIDE_PRIOR, 8 * view.typicalNoise))
    .filter((p) => p.height > 8 * view.typicalNoise && rfOfRow(p.mode) > 0.04 && rfOfRow(p.mode) < 0.93);
  if (strong.length < 3) return WIDE_PRIOR;
  return {
    logSigma: upperMedian(strong.map((p) => p.logSigma)),
    logSigmaSd: 0.35,
    tail: upperMedian(strong.map((p) => p.tail)),
    tailSd: 0.25,
    flatSd: 0.4,
  };
}

/** Smallest amount that the detection would have kept on bare ground. */
export function limitOf(view: View, frame: PlateFrame): number {
  const rows = 2.5 * Math.exp(view.prior.logSigma);
  return 4 * view.profiles.typicalNoise * rows * 0.45 * frame.pitch * RF_STEP * 1e4;
}
