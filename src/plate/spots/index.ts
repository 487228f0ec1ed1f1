import type { Light, Spot, SpotFlag, SpotResponse } from "../../model/index.ts";
import { lineAt } from "../../model/index.ts";
import { heightOfRf, laneX, type PlateFrame } from "../frame.ts";
import type { SignalMap } from "../view.ts";
import { type SpotFeatures, spotConfidence } from "./confidence.ts";
import { detectPeaks } from "./detect.ts";
import { type Peak, type PeakPrior, peakAt, sigmaBack, sigmaFront } from "./peaks.ts";
import { type LaneProfiles, laneProfiles } from "./profile.ts";
import { type SpotShape, shapeOf } from "./shape.ts";
import { RF_STEP, rfOfRow } from "./strip.ts";

/** Before any spot is known: about 5 % of the way wide, a little tailed. Widths in rows of the Rf grid. */
const WIDE_PRIOR: PeakPrior = { logSigma: Math.log(6.5), logSigmaSd: 0.6, tail: 0.05, tailSd: 0.3 };

/** Spots of one lane and what would have been missed there. */
export interface LaneSpots {
  readonly spots: readonly Spot[];
  readonly detectionLimit: readonly number[];
}

interface Candidate {
  readonly peak: Peak;
  readonly photo: number;
  readonly significance: number;
}

/** Finds the spots of every lane, all photos of the plate together, straightened along each lane's own way. */
export function findSpots(maps: readonly SignalMap[], frame: PlateFrame): LaneSpots[] {
  const views = maps.map((m) => laneProfiles(m, frame));
  const priors = views.map((v) => plateprior(v));
  const peaks = views.map((v, k) => v.profiles.map((p) => detectPeaks(p, v.noise, priors[k])));
  return frame.tracks.map((_, lane) => {
    const groups = groupCandidates(views, peaks, lane);
    const all = groups.map((g) => g[0].peak);
    const spots = groups.map((group, i) =>
      describe(
        maps.map((m) => m.light),
        views,
        frame,
        lane,
        group,
        all.filter((_, k) => k !== i),
      ),
    );
    return {
      spots: spots.sort((a, b) => a.rf - b.rf),
      detectionLimit: views.map((v, k) => limitOf(v, priors[k], frame)),
    };
  });
}

/** Widths and tailing typical of this plate's clear spots, as a prior for the faint ones. */
function plateprior(view: LaneProfiles): PeakPrior {
  const strong = view.profiles
    .flatMap((p) => detectPeaks(p, view.noise, WIDE_PRIOR))
    .filter((p) => p.height > 8 * view.noise && rfOfRow(p.mode) > 0.04 && rfOfRow(p.mode) < 0.95);
  if (strong.length < 3) return WIDE_PRIOR;
  const median = (values: number[]) => values.sort((a, b) => a - b)[values.length >> 1];
  return {
    logSigma: median(strong.map((p) => p.logSigma)),
    logSigmaSd: 0.35,
    tail: median(strong.map((p) => p.tail)),
    tailSd: 0.25,
  };
}

/** Peaks of all photos in one lane, those at one place together; the clearest of each group first. */
function groupCandidates(views: readonly LaneProfiles[], peaks: readonly Peak[][][], lane: number): Candidate[][] {
  const all: Candidate[] = peaks.flatMap((byLane, photo) =>
    byLane[lane].map((peak) => ({ peak, photo, significance: peak.height / views[photo].noise })),
  );
  all.sort((a, b) => b.significance - a.significance);
  const groups: Candidate[][] = [];
  for (const candidate of all) {
    const home = groups.find(
      (g) =>
        !g.some((c) => c.photo === candidate.photo) &&
        Math.abs(g[0].peak.mode - candidate.peak.mode) < Math.max(4, 0.6 * Math.exp(g[0].peak.logSigma)),
    );
    if (home) home.push(candidate);
    else groups.push([candidate]);
  }
  return groups;
}

function describe(
  lights: readonly Light[],
  views: readonly LaneProfiles[],
  frame: PlateFrame,
  lane: number,
  group: readonly Candidate[],
  others: readonly Peak[],
): Spot {
  const lead = group[0];
  const track = frame.tracks[lane];
  const rf = rfOfRow(lead.peak.mode);
  const shapes = views.map((v, k) => {
    const own = group.find((c) => c.photo === k)?.peak ?? heightIn(v, lane, lead.peak, others);
    return { peak: own, shape: shapeOf(v.strips[lane], own, others) };
  });
  const unit = amountUnit(frame);
  const responses: SpotResponse[] = views.map((v, k) => {
    const { peak, shape } = shapes[k];
    const rows = sigmaBack(peak) + sigmaFront(peak);
    return {
      light: lights[k],
      photo: k,
      amount: shape.amount * unit,
      amountSd: (v.noise * shape.width * rows * 1.5 + 0.05 * shape.amount) * unit,
      contrastToNoise: peak.height / v.noise,
      peak: peak.height,
      colour: [0, 0, 0],
    };
  });
  const best = shapes[lead.photo];
  const way = wayAt(frame, track.x);
  const y = heightOfRf(frame, track.x, rf);
  const features = featuresOf(views[lead.photo], best.peak, best.shape, group.length, rf);
  const flags = flagsOf(rf, best.peak, others);
  const fitSd = (Math.exp(lead.peak.logSigma) / Math.max(lead.significance, 1)) * RF_STEP;
  const rfSd = Math.hypot(fitSd, (frame.origin.sd * (1 - rf)) / way, (frame.front.sd * rf) / way, 0.002);
  return {
    x: laneX(frame, track, y) + best.shape.offset * frame.pitch,
    y,
    rf: Math.min(1, Math.max(0, rf)),
    rfSd,
    widthRf: 1.1775 * (sigmaFront(best.peak) + sigmaBack(best.peak)) * RF_STEP,
    widthX: best.shape.width * frame.pitch,
    tailing: sigmaBack(best.peak) / sigmaFront(best.peak),
    amount: responses[lead.photo].amount,
    amountSd: responses[lead.photo].amountSd,
    confidence: spotConfidence(features),
    flags,
    responses,
    lights: [...new Set(group.map((c) => lights[c.photo]))],
  };
}

/** The lead peak's shape with the height that another photo shows at the same place. */
function heightIn(view: LaneProfiles, lane: number, lead: Peak, others: readonly Peak[]): Peak {
  const profile = view.profiles[lane];
  const unit = { ...lead, height: 1 };
  let dot = 0;
  let norm = 0;
  for (let r = 0; r < profile.length; r++) {
    const e = peakAt(unit, r);
    if (e < 0.05) continue;
    const rest = others.reduce((s, o) => s + peakAt({ ...o, height: 1 }, r), 0);
    const w = e / (1 + rest);
    dot += w * profile[r];
    norm += w * e;
  }
  return { ...lead, height: Math.max(0, dot / Math.max(norm, 1e-9)) };
}

function wayAt(frame: PlateFrame, u: number): number {
  return Math.max(1e-3, lineAt(frame.origin, u) - lineAt(frame.front, u));
}

/** Strip units (pitches x rows) to the model's unit (plate-width fraction squared x 1e4, one way = one width). */
function amountUnit(frame: PlateFrame): number {
  return frame.pitch * RF_STEP * 1e4;
}

function featuresOf(
  view: LaneProfiles,
  peak: Peak,
  shape: SpotShape,
  photos: number,
  rf: number,
): SpotFeatures {
  return {
    significance: peak.height / view.noise,
    height: peak.height,
    fill: shape.fill,
    offset: Math.abs(shape.offset),
    width: shape.width,
    sigma: Math.exp(peak.logSigma) * RF_STEP,
    photos,
    rf,
  };
}

function flagsOf(rf: number, peak: Peak, others: readonly Peak[]): SpotFlag[] {
  const flags: SpotFlag[] = [];
  if (rf < 0.025) flags.push("at-origin");
  if (rf > 0.965) flags.push("at-front");
  if (peak.height > 0.9) flags.push("overloaded");
  if (sigmaBack(peak) * RF_STEP > 0.07) flags.push("streak");
  const near = (o: Peak) =>
    Math.abs(o.mode - peak.mode) < 1.18 * (o.mode < peak.mode ? sigmaBack(peak) + sigmaFront(o) : sigmaFront(peak) + sigmaBack(o));
  if (others.some(near)) flags.push("touching");
  return flags;
}

/** Smallest amount that the detection would have kept on bare ground. */
function limitOf(view: LaneProfiles, prior: PeakPrior, frame: PlateFrame): number {
  const rows = 2.5 * Math.exp(prior.logSigma);
  return 4 * view.noise * rows * 0.45 * amountUnit(frame);
}
