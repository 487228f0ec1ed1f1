import type { Light, Spot, SpotResponse } from "../../model/index.ts";
import { lineAt } from "../../model/index.ts";
import { heightOfRf, laneX, type PlateFrame } from "../frame.ts";
import type { MarkRow, SignalMap } from "../view.ts";
import { colourAt } from "./colour.ts";
import { type SpotFeatures, spotConfidence } from "./confidence.ts";
import { clearPeaks, detectPeaks } from "./detect.ts";
import { flagsOf } from "./flags.ts";
import { type Candidate, groupCandidates } from "./group.ts";
import { type Peak, type PeakPrior, peakAt, sigmaBack, sigmaFront } from "./peaks.ts";
import { pencilAtOrigin } from "./pencil.ts";
import { type Aspect, type LaneProfiles, laneProfiles } from "./profile.ts";
import { recentred } from "./recentre.ts";
import { type SpotShape, shapeOf } from "./shape.ts";
import { RF_STEP, rfOfRow } from "./strip.ts";

/** Before any spot is known: about 5 % of the way wide, a little tailed. Widths in rows of the Rf grid. */
const WIDE_PRIOR: PeakPrior = { logSigma: Math.log(6.5), logSigmaSd: 0.6, tail: 0.05, tailSd: 0.3, flatSd: 0.4 };
/** Standard deviation of a usual spot across its lane, in pitches: about half a lane wide. */
const USUAL_SIGMA = 0.19;
/** Candidates less likely than this are not handed on: they would only be struck out again. */
const LEAST_CONFIDENCE = 0.5;
/** On the start line, where pencil stands on nearly every plate, only what is clearly no mark is handed on. */
const LEAST_AT_ORIGIN = { rf: 0.025, confidence: 0.9 };

/** Spots of one lane and what would have been missed there. */
export interface LaneSpots {
  readonly spots: readonly Spot[];
  readonly detectionLimit: readonly number[];
}

/** A candidate spot with what its confidence is judged by. */
export interface JudgedSpot {
  readonly spot: Spot;
  readonly features: SpotFeatures;
}

interface View {
  readonly photo: number;
  readonly light: Light;
  readonly profiles: LaneProfiles;
  readonly prior: PeakPrior;
}

/** Finds the spots of every lane, all photos of the plate together, straightened along each lane's own way. */
export function findSpots(
  maps: readonly SignalMap[],
  start: PlateFrame,
  marks: readonly (readonly MarkRow[])[] = [],
): { frame: PlateFrame; lanes: LaneSpots[] } {
  const { frame, views } = settledViews(maps, start);
  const lanes = judgeAll(maps, views, frame, marks).map((lane) => ({
    spots: lane
      .filter(({ spot }) => spot.confidence >= leastConfidence(spot.rf))
      .map((j) => j.spot)
      .sort((a, b) => a.rf - b.rf),
    detectionLimit: maps.map((_, photo) => limitOf(views.find((v) => v.photo === photo) as View, frame)),
  }));
  return { frame, lanes };
}

function leastConfidence(rf: number): number {
  return rf < LEAST_AT_ORIGIN.rf ? LEAST_AT_ORIGIN.confidence : LEAST_CONFIDENCE;
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

/**
 * Two looks: the first with a usual spot's width on the lanes as found, the second with the width that the clear
 * spots have, on lanes moved to where their clear spots are.
 */
function settledViews(maps: readonly SignalMap[], start: PlateFrame): { frame: PlateFrame; views: View[] } {
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
  const median = (values: number[]) => values.sort((a, b) => a - b)[values.length >> 1];
  const sigma = Math.min(0.24, Math.max(0.09, median(clear.map((s) => s.shape.width)) / 2.355));
  const frame = recentred(
    start,
    clear.map((s) => ({ lane: s.lane, rf: s.rf, offset: s.shape.offset })),
  );
  return { frame, views: viewsOf(maps, frame, sigma) };
}

function viewsOf(maps: readonly SignalMap[], frame: PlateFrame, spotSigma: number): View[] {
  return maps.flatMap((map, photo) => {
    const aspects: Aspect[] = [{ plane: map.mix, noise: map.noise }];
    if (map.counter) aspects.push(map.counter);
    return aspects.map((aspect) => {
      const profiles = laneProfiles(aspect, frame, spotSigma);
      return { photo, light: map.light, profiles, prior: platePrior(profiles) };
    });
  });
}

function judgeAll(
  maps: readonly SignalMap[],
  views: readonly View[],
  frame: PlateFrame,
  marks: readonly (readonly MarkRow[])[],
): JudgedSpot[][] {
  const groups = frame.tracks.map((_, lane) => {
    const candidates = views.flatMap((v, view) =>
      detectPeaks(v.profiles.profiles[lane], v.profiles.noise, v.prior).map((peak) => ({
        peak,
        view,
        photo: v.photo,
        significance: peak.height / v.profiles.noise[Math.round(peak.mode)],
      })),
    );
    return groupCandidates(candidates);
  });
  const common = commonAtOrigin(groups, views.length);
  const pencil = pencilAtOrigin(marks.flat(), maps[0], frame);
  return groups.map((inLane, lane) =>
    inLane.map((group, k) => {
      const others = inLane.filter((_, i) => i !== k).map((g) => g[0].peak);
      return judge(maps, views, frame, lane, group, others, {
        beside: besideOf(groups, lane, group[0].peak.mode),
        marked: atOrigin(group) && group[0].peak.height < 1.7 * (common[group[0].view] ?? 0),
        pencil: { here: pencil.lanes[lane], share: pencil.share },
      });
    }),
  );
}

/** Widths and tailing typical of this aspect's clear spots, as a prior for the faint ones. */
function platePrior(view: LaneProfiles): PeakPrior {
  const strong = view.profiles
    .flatMap((p) => clearPeaks(p, view.noise, WIDE_PRIOR, 8 * view.typicalNoise))
    .filter((p) => p.height > 8 * view.typicalNoise && rfOfRow(p.mode) > 0.04 && rfOfRow(p.mode) < 0.93);
  if (strong.length < 3) return WIDE_PRIOR;
  const median = (values: number[]) => values.sort((a, b) => a - b)[values.length >> 1];
  return {
    logSigma: median(strong.map((p) => p.logSigma)),
    logSigmaSd: 0.35,
    tail: median(strong.map((p) => p.tail)),
    tailSd: 0.25,
    flatSd: 0.4,
  };
}

function atOrigin(group: readonly Candidate[]): boolean {
  return Math.abs(rfOfRow(group[0].peak.mode)) < 0.03;
}

/**
 * Height, in each view, of what many lanes show much alike at the origin; null where there is no such thing. Blurred
 * ticks and crosses are alike, residues differ with the load.
 */
function commonAtOrigin(groups: readonly Candidate[][][], views: number): (number | null)[] {
  const leads = groups.flatMap((lane) => lane.filter(atOrigin).map(([lead]) => lead));
  return Array.from({ length: views }, (_, view) => {
    const heights = leads.filter((c) => c.view === view).map((c) => c.peak.height);
    const median = heights.sort((a, b) => a - b)[heights.length >> 1];
    const like = heights.filter((h) => alike(h, median)).length;
    return like >= 3 && like >= 0.4 * groups.length ? median : null;
  });
}

function alike(height: number, usual: number): boolean {
  return height < 1.7 * usual && usual < 1.7 * height;
}

/** Significance of the clearest candidate at the same Rf in the two neighbouring lanes. */
function besideOf(groups: readonly Candidate[][][], lane: number, mode: number): number {
  let most = 0;
  for (const other of [lane - 1, lane + 1])
    for (const group of groups[other] ?? [])
      if (Math.abs(group[0].peak.mode - mode) < 5) most = Math.max(most, group[0].significance);
  return most;
}

function judge(
  maps: readonly SignalMap[],
  views: readonly View[],
  frame: PlateFrame,
  lane: number,
  group: readonly Candidate[],
  others: readonly Peak[],
  around: Pick<SpotFeatures, "beside" | "marked" | "pencil">,
): JudgedSpot {
  const lead = group[0];
  const track = frame.tracks[lane];
  const rf = rfOfRow(lead.peak.mode);
  const seen = views.map((v, k) => {
    const own = group.find((c) => c.view === k)?.peak ?? heightIn(v.profiles, lane, lead.peak, others);
    return { peak: own, shape: shapeOf(v.profiles.strips[lane], own, others) };
  });
  const best = seen[lead.view];
  const way = Math.max(1e-3, lineAt(frame.origin, track.x) - lineAt(frame.front, track.x));
  const y = heightOfRf(frame, track.x, rf);
  const x = laneX(frame, track, y) + best.shape.offset * frame.pitch;
  const responses = maps.map((map, photo) => ({
    ...responseOf(views, seen, photo, lead, frame),
    colour: colourAt(map, x, y, 0.1 * frame.pitch, 0.5 * Math.exp(best.peak.logSigma) * RF_STEP * way),
  }));
  const features: SpotFeatures = {
    significance: lead.significance,
    height: best.peak.height,
    fill: best.shape.fill,
    offset: Math.abs(best.shape.offset),
    width: best.shape.width,
    stretch: best.peak.logSigma - views[lead.view].prior.logSigma,
    photos: new Set(group.map((c) => c.photo)).size,
    ...around,
    shade: shadeOf(best.peak, others),
    rf,
  };
  const fitSd = (Math.exp(lead.peak.logSigma) / Math.max(lead.significance, 1)) * RF_STEP;
  const spot: Spot = {
    x,
    y,
    rf: Math.min(1, Math.max(0, rf)),
    rfSd: Math.hypot(fitSd, (frame.origin.sd * (1 - rf)) / way, (frame.front.sd * rf) / way, 0.002),
    widthRf: 1.1775 * (sigmaFront(best.peak) + sigmaBack(best.peak)) * RF_STEP,
    widthX: best.shape.width * frame.pitch,
    tailing: sigmaBack(best.peak) / sigmaFront(best.peak),
    amount: responses[lead.photo].amount,
    amountSd: responses[lead.photo].amountSd,
    confidence: spotConfidence(features),
    flags: flagsOf(rf, best.peak, others),
    responses,
    lights: [...new Set(group.map((c) => views[c.view].light))],
  };
  return { spot, features };
}

/** How much the tallest near peak overshadows this one: ln(height ratio), fading to 0 at four widths' distance. */
function shadeOf(peak: Peak, others: readonly Peak[]): number {
  let most = 0;
  for (const o of others) {
    const distance = Math.abs(o.mode - peak.mode) / (4 * Math.exp(Math.max(o.logSigma, peak.logSigma)));
    if (distance < 1 && o.height > peak.height)
      most = Math.max(most, Math.log(o.height / peak.height) * (1 - distance));
  }
  return most;
}

/** What one photo shows of a spot: the aspect of it that shows most, the lead's own aspect for the lead's photo. */
function responseOf(
  views: readonly View[],
  seen: readonly { peak: Peak; shape: SpotShape }[],
  photo: number,
  lead: Candidate,
  frame: PlateFrame,
): Omit<SpotResponse, "colour"> {
  const strength = (k: number) => seen[k].peak.height / views[k].profiles.typicalNoise;
  const own = views.map((_, k) => k).filter((k) => views[k].photo === photo);
  const k = photo === lead.photo ? lead.view : own.sort((a, b) => strength(b) - strength(a))[0];
  const { peak, shape } = seen[k];
  const { noise, typicalNoise } = views[k].profiles;
  const unit = frame.pitch * RF_STEP * 1e4;
  const rows = sigmaBack(peak) + sigmaFront(peak);
  return {
    light: views[k].light,
    photo,
    amount: shape.amount * unit,
    amountSd: (typicalNoise * shape.width * rows * 1.5 + 0.05 * shape.amount) * unit,
    contrastToNoise: peak.height / noise[Math.round(peak.mode)],
    peak: peak.height,
  };
}

/** The lead peak's shape with the height that another aspect shows at the same place. */
function heightIn(view: LaneProfiles, lane: number, lead: Peak, others: readonly Peak[]): Peak {
  const profile = view.profiles[lane];
  const unit = { ...lead, height: 1 };
  let dot = 0;
  let norm = 0;
  for (let r = 0; r < profile.length; r++) {
    const e = peakAt(unit, r);
    if (e < 0.05) continue;
    let rest = 0;
    for (const o of others) rest += peakAt({ ...o, height: 1 }, r);
    const w = e / (1 + rest);
    dot += w * profile[r];
    norm += w * e;
  }
  return { ...lead, height: Math.max(0, dot / Math.max(norm, 1e-9)) };
}

/** Smallest amount that the detection would have kept on bare ground. */
function limitOf(view: View, frame: PlateFrame): number {
  const rows = 2.5 * Math.exp(view.prior.logSigma);
  return 4 * view.profiles.typicalNoise * rows * 0.45 * frame.pitch * RF_STEP * 1e4;
}
