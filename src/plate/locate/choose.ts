import type { Quad } from "../../model/index.ts";
import { contains, overlapShare, quadArea } from "./geometry.ts";
import type { Judged } from "./judge.ts";
import { outermost, PART } from "./outermost.ts";
import { colourDistance, leadsToBench, type SideEvidence } from "./sides.ts";

const LEAST_SCORE = 0.25;
/** A frame's border speaks for no plate: the other sides must be shown the better. */
const LEAST_FRAMED_SCORE = 0.57;
/** What comes after a refused candidate must be shown nearly as well. */
const SECOND_SCORE = 0.75;
/** A sheet beside the plate is often cut off by the frame, the plate hardly ever. */
const CUT_OFF = 0.78;
/** A sheet of paper under the 365 nm lamp has the boldest rim of all. */
const LAMP_PAPER = 0.6;
/** Of two shown as well the larger is the plate: a tenfold area weighs as 7 % of the score. */
const LARGER = 0.03;
const FELLOW_SCORE = 0.65;
/** Plates of a photo do not overlap by more, as a share of the smaller. */
export const APART = 0.08;
const MOST_PLATES = 8;
const MOST_TRIES = 5;

/** Of plates that are listed, a fellow shown so well needs no more than the layer's colour. */
const LISTED_SCORE = 0.85;

/** Looks at what is on a candidate: alone, beside a plate that looks like it, or known to be there. */
export type HoldsLayer = (one: Judged, place: "alone" | "beside" | "known") => boolean;

/**
 * Picks the plates among the candidates: the best one that holds a layer, moved out to the true rim or in to the plate on
 * the paper, and then its fellows, which look alike and do not overlap.
 * @param judged candidates, best first
 * @param count how many plates the photo is known to show, or null
 */
export function choosePlates(judged: readonly Judged[], count: number | null, holdsLayer: HoldsLayer): Judged[] {
  const whole = judged.filter((one) => shownEnough(one) && !judged.some((two) => splits(two, one, judged)));
  const first = firstPlate(whole, holdsLayer);
  if (!first) return [];
  const chosen = [first];
  const refused: Judged[] = [];
  for (const next of whole) {
    if (chosen.length >= (count ?? MOST_PLATES) || next.score < FELLOW_SCORE * first.score) break;
    const moved = settle(next, whole);
    if (chosen.some((plate) => overlapShare(plate.quad, moved.quad) > APART)) continue;
    if (count === null && moved.sides.some((side) => side.framed)) continue;
    if (!alike(first, moved, count !== null) || refused.some((one) => covers(one, moved))) continue;
    const listed = count !== null && moved.score > LISTED_SCORE * first.score;
    (holdsLayer(moved, listed ? "known" : "beside") ? chosen : refused).push(moved);
  }
  return chosen.sort((a, b) => centreX(a.quad) - centreX(b.quad));
}

function shownEnough(one: Judged): boolean {
  return one.score >= (one.sides.some((side) => side.framed) ? LEAST_FRAMED_SCORE : LEAST_SCORE);
}

function firstPlate(whole: readonly Judged[], holdsLayer: HoldsLayer): Judged | null {
  const refused: Judged[] = [];
  for (const start of wholeFirst(whole)) {
    if (refused.length >= MOST_TRIES) break;
    const plate = settle(start, whole);
    if (refused.some((one) => disturbs(one, plate))) continue;
    if (holdsLayer(plate, "alone")) return plate;
    refused.push(plate);
  }
  return null;
}

/** Best first, what the frame cuts off behind what lies wholly in the picture and is shown nearly as well. */
export function wholeFirst(candidates: readonly Judged[]): Judged[] {
  const rank = (one: Judged) =>
    one.score *
    quadArea(one.quad) ** LARGER *
    (one.sides.some((side) => side.framed) ? CUT_OFF : 1) *
    (glowsLikePaper(one) ? LAMP_PAPER : 1);
  return [...candidates].sort((a, b) => rank(b) - rank(a));
}

/** Bluish white or wholly clipped, with violet or dark blue around: paper, whose brighteners glow at 365 nm. */
function glowsLikePaper(one: Judged): boolean {
  const [r, g, b] = meanColour(one, (side) => side.inside);
  const [, g0, b0] = meanColour(one, (side) => side.outside);
  return b >= 170 && b >= 0.98 * g && g >= 0.98 * r && r > 0.5 * b && b0 > 1.5 * g0;
}

/** What was refused speaks against all that covers or cuts it, but not against one beside it that is shown as well. */
function disturbs(refused: Judged, plate: Judged): boolean {
  if (onIt(refused, plate)) return false;
  return plate.score < SECOND_SCORE * refused.score || covers(refused, plate);
}

function covers(refused: Judged, plate: Judged): boolean {
  return !onIt(refused, plate) && overlapShare(refused.quad, plate.quad) > 0.1;
}

/** A plate may lie on a refused sheet. */
function onIt(sheet: Judged, plate: Judged): boolean {
  return contains(sheet.quad, plate.quad, 0.02 * Math.sqrt(quadArea(sheet.quad)));
}

export function settle(start: Judged, all: readonly Judged[]): Judged {
  return outermost(innermost(start, all), all);
}

/** The plate on a sheet of paper: a well-shown quadrilateral wholly within, with sides of its own. */
function innermost(outer: Judged, all: readonly Judged[]): Judged {
  let best = outer;
  for (const one of all) {
    if (one === outer || one.score < 0.45 * outer.score) continue;
    if (quadArea(one.quad) < 0.1 * quadArea(outer.quad)) continue;
    const margin = 0.03 * Math.sqrt(quadArea(outer.quad));
    if (!contains(outer.quad, one.quad, margin)) continue;
    if (one.sides.some((side) => side.framed || side.coherence < 0.8)) continue;
    if (best === outer || one.score > best.score) best = one;
  }
  return best;
}

/** Whether `half` is one of two candidates side by side that together make up `union`, with bench in the gap. */
function splits(half: Judged, union: Judged, all: readonly Judged[]): boolean {
  if (half === union || half.score < 0.6 * union.score) return false;
  const area = quadArea(union.quad);
  const own = quadArea(half.quad);
  if (own < PART[0] * area || own > PART[1] * area || overlapShare(union.quad, half.quad) < 0.95) return false;
  return all.some(
    (other) =>
      other !== half &&
      other !== union &&
      other.score >= 0.6 * union.score &&
      quadArea(other.quad) + own > 0.8 * area &&
      overlapShare(other.quad, half.quad) < 0.03 &&
      overlapShare(union.quad, other.quad) > 0.95 &&
      realGap(half, other),
  );
}

/** The two sides that face each other across the gap step as boldly as the plates' other sides, and to the same bench. */
function realGap(a: Judged, b: Judged): boolean {
  return [a, b].every(({ sides }) => {
    const shown = sides.filter((side) => !side.framed);
    const steps = shown.map((side) => side.step);
    return Math.min(...steps) > 0.5 * Math.max(...steps) && shown.every((side) => leadsToBench(side, shown));
  });
}

/** Times by which the plates of a photo differ in area, at most; those for few lanes and for many are cut to one height. */
const SIZES = { any: 3, ofOneHeight: 6, listed: 6 };
const SAME_HEIGHT = 0.12;

function sameHeight(a: Quad, b: Quad): boolean {
  const [p, q] = [sideLengths(a), sideLengths(b)];
  return p.some((one, i) => Math.abs(Math.log(one / q[i])) < SAME_HEIGHT);
}

/** Mean length of the upper and lower side, and of the two others. */
function sideLengths(quad: Quad): [number, number] {
  const side = (i: number) => Math.hypot(quad[i][0] - quad[(i + 1) & 3][0], quad[i][1] - quad[(i + 1) & 3][1]);
  return [(side(0) + side(2)) / 2, (side(1) + side(3)) / 2];
}

export function ofLikeSize(a: Quad, b: Quad, listed: boolean): boolean {
  const ratio = quadArea(a) / quadArea(b);
  const most = listed ? SIZES.listed : sameHeight(a, b) ? SIZES.ofOneHeight : SIZES.any;
  return ratio <= most && ratio >= 1 / most;
}

/** Plates of one photo share light and layer, and are of similar size. */
function alike(a: Judged, b: Judged, listed: boolean): boolean {
  if (!ofLikeSize(a.quad, b.quad, listed)) return false;
  const p = meanColour(a, (side) => side.inside);
  const q = meanColour(b, (side) => side.inside);
  // Paper beside a plate looks more like the plate's surroundings than like the plate.
  if (
    colourDistance(q, p) >
    0.7 *
      colourDistance(
        q,
        meanColour(a, (side) => side.outside),
      )
  )
    return false;
  const [sizeP, sizeQ] = [Math.hypot(...p), Math.hypot(...q)];
  const cosine = (p[0] * q[0] + p[1] * q[1] + p[2] * q[2]) / Math.max(1, sizeP * sizeQ);
  return cosine > 0.98 && sizeP < 1.8 * sizeQ && sizeQ < 1.8 * sizeP;
}

function meanColour(one: Judged, of: (side: SideEvidence) => readonly number[]): [number, number, number] {
  const mean = (c: number) => one.sides.reduce((sum, side) => sum + of(side)[c] / 4, 0);
  return [mean(0), mean(1), mean(2)];
}

export function centreX(quad: Quad): number {
  return quad[0][0] + quad[1][0] + quad[2][0] + quad[3][0];
}
