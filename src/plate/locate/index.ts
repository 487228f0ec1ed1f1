import type { Finding, Light, Quad, StageResult } from "../../model/index.ts";
import type { Picture } from "../../raster/picture.ts";
import { withListed } from "./beside.ts";
import { APART, choosePlates } from "./choose.ts";
import { closeUps, moved } from "./closeUp.ts";
import { readContent } from "./content.ts";
import { allPlate, cropped } from "./frame.ts";
import { leftToRight, overlapShare } from "./geometry.ts";
import type { Judged } from "./judge.ts";
import { type Place, plateLike } from "./plateLike.ts";
import { refinedTwice } from "./refine.ts";
import { enlarge, look, sketchScale, type View } from "./sketchView.ts";

export { outlinesIn, refinedOutline } from "./outlines.ts";

/** A plate in a photo. */
export interface LocatedPlate {
  /** Top-left, top-right, bottom-right, bottom-left as the photo shows the plate, in pixels of the picture. */
  readonly quad: Quad;
  /** 0..1: how sure it is that this is a plate and that these are its corners. */
  readonly confidence: number;
  /** True where the picture is all plate (a scan, a crop). */
  readonly wholeFrame: boolean;
  /** True where the frame cuts the plate off; the quad then ends at the frame. */
  readonly cutOff: boolean;
}

export interface LocateOptions {
  /** How many plates the photo shows, or null where nobody said. */
  readonly count: number | null;
  /** Tells whether an outline, in pixels of the picture, may be the plate's, where its shape is known; left out: any may. */
  readonly fits?: (quad: Quad) => boolean;
  /** The light that the photo was taken under, where somebody said so: under 254 nm alone a layer may be wholly clipped. */
  readonly light?: Light | null;
}

const SURE = 0.5;
/** How well the rim of a plate is shown that is taken for one because of its shape, or because it is listed. */
const PLAIN = { known: { edge: 0.5, coherence: 0.8 }, listed: { edge: 0.5, coherence: 0.92 } };

/**
 * Finds the plates in a photo, left to right. See docs/methods/locate.md.
 * @param picture the photo, upright, at most about 2000 pixels on its long side
 * @returns an empty list and the finding `no-plate` where the photo shows none
 */
export function locatePlates(picture: Picture, options: LocateOptions): StageResult<readonly LocatedPlate[]> {
  const scale = sketchScale(picture);
  const fits = options.fits ?? (() => true);
  const views = [look(picture, scale, fits)];
  // Faint rims in noise show better on a coarser sketch.
  if (bestScore(views[0]) < SURE && Math.min(picture.width, picture.height) > 200 * scale) {
    views.push(look(picture, 2 * scale, fits));
  }
  const { light = null } = options;
  const holdsIn = (part: Picture, scale: number) => (one: Judged, place: Place) => {
    const content = readContent(part, enlarge(one.quad, scale));
    return content !== null && plateLike(content, place, light);
  };
  const holds = (view: View) => holdsIn(picture, view.scale);
  const small = (count: number, coarser: readonly number[]): LocatedPlate[] =>
    closeUps(picture, count, coarser, fits, holdsIn, light).map((found) => {
      const plate = measure(found.part, found.plate, found.scale);
      return { ...plate, quad: moved(plate.quad, ...found.corner) };
    });
  const whole = views.map(allPlate);
  const confidence = whole[0];
  if (confidence !== null && whole.every((one) => one !== null) && fits(frameOf(picture))) {
    const within = small(1, [1]);
    return within.length > 0 ? { value: within, findings: [] } : wholePicture(picture, confidence);
  }
  const first = views.length > 1 && bestScore(views[1]) > 1.1 * bestScore(views[0]) ? views[1] : views[0];
  let view = first;
  let seen = choosePlates(view.judged, options.count, holds(view), light);
  for (const lookOther of otherViews(picture, views, first, fits)) {
    if (seen.length >= (options.count ?? 1)) break;
    const other = lookOther();
    const also = choosePlates(other.judged, options.count, holds(other), light);
    if (also.length > seen.length) [view, seen] = [other, also];
  }
  if (options.count !== null && seen.length > 0 && seen.length < options.count) {
    const others = seen.map((one) => enlarge(one.quad, view.scale));
    const apart = (quad: Quad) => fits(quad) && others.every((one) => overlapShare(one, quad) <= APART);
    const beside = look(picture, view.scale, apart);
    seen = withListed(seen, beside.judged, options.count, holds(beside));
  }
  // Its shape is known from another photo, or it is listed: what has a plain rim is it, though what is on it would not show it for one.
  const place = options.fits ? "known" : light === "uv254" ? "listed-lit" : "listed";
  const known =
    seen.length === 0 && (options.fits || options.count !== null)
      ? plainRim(view.judged, options.fits ? PLAIN.known : PLAIN.listed, (one) => holds(view)(one, place))
      : [];
  const alone = seen.length + known.length === 0 && (options.count ?? 1) === 1;
  const cut = (one: View) => {
    const plate = cropped(one, (own) => holds(one)(own, "whole"));
    return plate ? [measure(picture, plate, one.scale)] : [];
  };
  const value = alone
    ? views.flatMap(cut).slice(0, 1)
    : [...seen, ...known].map((one) => measure(picture, one, view.scale));
  const last = value.length === 0 && options.count !== null ? small(options.count, [1, 2]) : [];
  if (last.length > 0) return { value: leftToRight(last), findings: [] };
  if (value.length === 0) return { value, findings: [noPlate()] };
  return { value, findings: [...value.flatMap(doubts), ...(known.length > 0 && !options.fits ? [blank()] : [])] };
}

/** The best of the candidates that lie wholly in the picture, plain on all sides, and may be a layer. */
function plainRim(
  judged: readonly Judged[],
  least: { readonly edge: number; readonly coherence: number },
  mayBe: (one: Judged) => boolean,
): Judged[] {
  const plain = judged.filter(
    ({ edge, sides }) => edge >= least.edge && sides.every((side) => !side.framed && side.coherence >= least.coherence),
  );
  const best = plain.find(mayBe);
  return best ? [best] : [];
}

/** Mean code of a photo that is dark. */
const DARK = 70;

/**
 * Where else plates may show that were not found in the view taken: in the other sketch, and, in a dark photo, in one of its square
 * roots, in which a lit sheet outshines a black layer on a black bench no more. Each is made when it is asked for.
 */
function otherViews(
  picture: Picture,
  views: readonly View[],
  taken: View,
  fits: (quad: Quad) => boolean,
): (() => View)[] {
  const { width, height, data } = picture;
  const scale = sketchScale(picture);
  const others = views.filter((view) => view !== taken).map((view) => () => view);
  if (Math.min(width, height) <= 200 * scale) return others;
  if (views.length === 1) others.push(() => look(picture, 2 * scale, fits));
  if (meanOfSome(data) < DARK)
    others.push(() => look({ width, height, data: data.map((code) => ROOTS[code]) }, 2 * scale, fits));
  return others;
}

const ROOTS = Uint8Array.from({ length: 256 }, (_, code) => Math.round(Math.sqrt(255 * code)));

/** Of every 97th code, which is all colours and columns alike. */
function meanOfSome(data: Uint8Array): number {
  let sum = 0;
  let count = 0;
  for (let i = 0; i < data.length; i += 97, count++) sum += data[i];
  return sum / Math.max(1, count);
}

function bestScore(view: View): number {
  return view.judged.length > 0 ? view.judged[0].score : 0;
}

function measure(picture: Picture, plate: Judged, scale: number): LocatedPlate {
  const fixed = plate.candidate.sides.map((side) => side.border);
  const quad = refinedTwice(picture, enlarge(plate.quad, scale), scale, fixed);
  return { quad, confidence: Math.min(1, plate.score), wholeFrame: false, cutOff: fixed.some(Boolean) };
}

function wholePicture(picture: Picture, confidence: number): StageResult<readonly LocatedPlate[]> {
  const quad = frameOf(picture);
  const content = readContent(picture, quad);
  if (!content || !plateLike(content, "whole")) return { value: [], findings: [noPlate()] };
  return { value: [{ quad, confidence, wholeFrame: true, cutOff: false }], findings: [] };
}

function frameOf({ width, height }: Picture): Quad {
  return [
    [0, 0],
    [width, 0],
    [width, height],
    [0, height],
  ];
}

function doubts(plate: LocatedPlate): Finding[] {
  if (!plate.cutOff) return [];
  return [
    {
      code: "plate-cut-off",
      message: "The frame cuts the plate off; what lies beyond it is not read.",
      remedy: "Step back a little, so that all four edges of the plate are in the picture.",
      where: {},
    },
  ];
}

function blank(): Finding {
  return {
    code: "plate-blank",
    message:
      "Nothing in it looks like a TLC plate; the plainest outline is read as one, because run.yaml lists the photo.",
    remedy: "Check the outline; if it is no plate, take the photo out of run.yaml.",
    where: {},
  };
}

function noPlate(): Finding {
  return {
    code: "no-plate",
    message: "No TLC plate was found in this photo.",
    remedy: "Photograph the plate from straight above, so that all four edges show against the bench.",
    where: {},
  };
}
