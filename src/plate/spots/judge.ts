import { lineAt, type Spot, type SpotResponse } from "../../model/index.ts";
import { heightOfRf, laneX, type PlateFrame } from "../frame.ts";
import type { SignalMap } from "../view.ts";
import { shadeOf } from "./around.ts";
import { bareAt, colourAt } from "./colour.ts";
import { firstConfidence, type SpotFeatures } from "./confidence.ts";
import { darkestRow } from "./darkest.ts";
import { flagsOf } from "./flags.ts";
import type { Candidate } from "./group.ts";
import { likenessOf } from "./likeness.ts";
import { courseOf, heightAt, type Peak, sigmaBack, sigmaFront } from "./peaks.ts";
import type { LaneProfiles } from "./profile.ts";
import { type SpotShape, shapeOf } from "./shape.ts";
import { RF_STEP, rfOfRow } from "./strip.ts";
import type { View } from "./views.ts";

/** A candidate measured and looked at by itself. */
export interface FirstLook {
  /** Its confidence is that of the first look. */
  readonly spot: Spot;
  readonly features: SpotFeatures;
  /** Correlation with a spot of its widths, -1..1. */
  readonly likeness: number;
  readonly stand: Stand;
}

/** How a candidate stands among what is near it in the photo that shows it best. */
export interface Stand {
  /** Share of its height by which the profile falls on both sides before it rises again, 0..1: 0 for a shoulder. */
  readonly rise: number;
  /** What the profiles of the two next lanes show at its Rf over its own height, the higher and the lower. */
  readonly beside: readonly [number, number];
  /** What stands at the lane's two borders, the higher and the lower, over what stands in its middle. */
  readonly borders: readonly [number, number];
  /** Greatest contrast to noise in the other photos of the plate; null where there are none. */
  readonly elsewhere: number | null;
}

/**
 * Measures one candidate in all photos and says how surely it is a spot by itself.
 * @param group its appearances in the views, the clearest first
 * @param others peaks of the other candidates of its lane
 */
export function judge(
  maps: readonly SignalMap[],
  views: readonly View[],
  frame: PlateFrame,
  lane: number,
  group: readonly Candidate[],
  others: readonly Peak[],
  around: Pick<SpotFeatures, "beside" | "marked" | "pencil">,
): FirstLook {
  const lead = group[0];
  const track = frame.tracks[lane];
  const rf = rfOfRow(darkestRow(views[lead.view].profiles.profiles[lane], lead.peak, others));
  const seen = views.map((v, k) => {
    const own = group.find((c) => c.view === k)?.peak ?? heightIn(v.profiles, lane, lead.peak, others);
    return { peak: own, shape: shapeOf(v.profiles.strips[lane], own, others) };
  });
  const best = seen[lead.view];
  const way = Math.max(1e-3, lineAt(frame.origin, track.x) - lineAt(frame.front, track.x));
  const y = heightOfRf(frame, track.x, rf);
  const x = laneX(frame, track, y) + best.shape.offset * frame.pitch;
  const responses = maps.map((map, photo) => {
    const bare = bareAt(map, x, y);
    return {
      ...responseOf(views, seen, photo, lead, frame),
      colour: colourAt(map, x, y, 0.1 * frame.pitch, 0.5 * Math.exp(best.peak.logSigma) * RF_STEP * way),
      ...(bare && { bare }),
    };
  });
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
    confidence: firstConfidence(features),
    flags: flagsOf(rf, best.peak, others),
    responses,
    lights: [...new Set(group.map((c) => views[c.view].light))],
  };
  const profiles = views[lead.view].profiles.profiles;
  const row = Math.round(lead.peak.mode);
  const next = [lane - 1, lane + 1].map((k) => (profiles[k]?.[row] ?? 0) / Math.max(lead.peak.height, 1e-6));
  const stand: Stand = {
    rise: riseOf(profiles[lane], row),
    beside: [Math.max(...next), Math.min(...next)],
    borders: best.shape.borders,
    elsewhere:
      responses.length < 2
        ? null
        : Math.max(...responses.filter((r) => r.photo !== lead.photo).map((r) => r.contrastToNoise)),
  };
  return {
    spot,
    features,
    stand,
    likeness: likenessOf(views[lead.view].profiles.strips[lane], lead.peak, best.shape.width),
  };
}

/** What one photo shows of a spot: the aspect of it that shows most, the lead's own aspect for the lead's photo. */
function responseOf(
  views: readonly View[],
  seen: readonly { peak: Peak; shape: SpotShape }[],
  photo: number,
  lead: Candidate,
  frame: PlateFrame,
): Omit<SpotResponse, "colour" | "bare"> {
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
  const unit = courseOf({ ...lead, height: 1 });
  const rests = others.map((o) => courseOf({ ...o, height: 1 }));
  let dot = 0;
  let norm = 0;
  for (let r = 0; r < profile.length; r++) {
    const e = heightAt(unit, r);
    if (e < 0.05) continue;
    let rest = 0;
    for (const o of rests) rest += heightAt(o, r);
    const w = e / (1 + rest);
    dot += w * profile[r];
    norm += w * e;
  }
  return { ...lead, height: Math.max(0, dot / Math.max(norm, 1e-9)) };
}

/** Share of its height by which a profile falls on both sides of a row before it rises above it again, 0..1. */
function riseOf(profile: Float64Array, row: number): number {
  const top = Math.max(profile[row], profile[row - 1] ?? 0, profile[row + 1] ?? 0);
  if (top <= 0) return 0;
  const valleys = ([-1, 1] as const).map((direction) => {
    let low = top;
    for (let r = row + 2 * direction; r >= 0 && r < profile.length && profile[r] <= top; r += direction)
      low = Math.min(low, profile[r]);
    return low;
  });
  return Math.min(1, 1 - Math.max(...valleys) / top);
}
