import type { Light } from "../../model/index.ts";
import { alike, glowsLikePaper } from "./alike.ts";
import { contains, leftToRight, overlapShare, quadArea } from "./geometry.ts";
import type { Judged } from "./judge.ts";
import { outermost, PART } from "./outermost.ts";
import { outOfShadow } from "./shadow.ts";
import { leadsToBench } from "./sides.ts";

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
 * @param light that it was taken under, where somebody said so
 */
export function choosePlates(
  judged: readonly Judged[],
  count: number | null,
  holdsLayer: HoldsLayer,
  light: Light | null = null,
): Judged[] {
  // of a plate that is known to lie alone, two halves with a gap are parts of one, parted by glare
  const parted = (one: Judged) => count !== 1 && judged.some((two) => splits(two, one, judged));
  const whole = judged.filter((one) => shownEnough(one) && !parted(one));
  const first = firstPlate(whole, count, light, holdsLayer);
  if (!first) return [];
  const chosen = [first];
  const refused: Judged[] = [];
  for (const next of whole) {
    if (chosen.length >= (count ?? MOST_PLATES) || next.score < FELLOW_SCORE * first.score) break;
    const moved = settle(next, whole, false);
    if (chosen.some((plate) => overlapShare(plate.quad, moved.quad) > APART)) continue;
    if (count === null && moved.sides.some((side) => side.framed)) continue;
    if (!alike(first, moved, count !== null) || refused.some((one) => covers(one, moved))) continue;
    const listed = count !== null && moved.score > LISTED_SCORE * first.score;
    (holdsLayer(moved, listed ? "known" : "beside") ? chosen : refused).push(moved);
  }
  return leftToRight(chosen);
}

function shownEnough(one: Judged): boolean {
  return one.score >= (one.sides.some((side) => side.framed) ? LEAST_FRAMED_SCORE : LEAST_SCORE);
}

function firstPlate(
  whole: readonly Judged[],
  count: number | null,
  light: Light | null,
  holdsLayer: HoldsLayer,
): Judged | null {
  const refused: Judged[] = [];
  for (const start of wholeFirst(whole, light)) {
    if (refused.length >= MOST_TRIES) break;
    const plate = settle(start, whole, count === 1);
    // Two plates may have seemed one where there are several.
    const several = (count ?? 1) > 1;
    if (refused.some((one) => disturbs(one, plate) && !(several && isPart(plate, one)))) continue;
    if (holdsLayer(plate, "alone")) return plate;
    refused.push(plate);
  }
  return null;
}

/** Best first, what the frame cuts off behind what lies wholly in the picture and is shown nearly as well. */
export function wholeFirst(candidates: readonly Judged[], light: Light | null): Judged[] {
  const rank = (one: Judged) =>
    one.score *
    quadArea(one.quad) ** LARGER *
    (one.sides.some((side) => side.framed) ? CUT_OFF : 1) *
    (glowsLikePaper(one, light) ? LAMP_PAPER : 1);
  return [...candidates].sort((a, b) => rank(b) - rank(a));
}

/** What was refused speaks against all that covers or cuts it, but not against one beside it that is shown as well. */
function disturbs(refused: Judged, plate: Judged): boolean {
  if (onIt(refused, plate)) return false;
  return plate.score < SECOND_SCORE * refused.score || covers(refused, plate);
}

/** Whether a plate may be one of two that make up what was refused. */
function isPart(plate: Judged, union: Judged): boolean {
  const part = quadArea(plate.quad) / quadArea(union.quad);
  return part > PART[0] && part < PART[1] && overlapShare(union.quad, plate.quad) > 0.95;
}

function covers(refused: Judged, plate: Judged): boolean {
  return !onIt(refused, plate) && overlapShare(refused.quad, plate.quad) > 0.1;
}

/** A plate may lie on a refused sheet. */
function onIt(sheet: Judged, plate: Judged): boolean {
  return contains(sheet.quad, plate.quad, 0.02 * Math.sqrt(quadArea(sheet.quad)));
}

export function settle(start: Judged, all: readonly Judged[], alone: boolean): Judged {
  return outOfShadow(outermost(innermost(start, all), all, alone), all);
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
