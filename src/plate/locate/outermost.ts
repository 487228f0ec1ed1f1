import { contains, quadArea } from "./geometry.ts";
import { DRAWN, type Judged } from "./judge.ts";
import { supportBetween } from "./lines.ts";
import type { Candidate } from "./quads.ts";
import { colourDistance, leadsToBench, type SideEvidence } from "./sides.ts";

/** Of two plates side by side, each has about such a share of the whole; a pencil line cuts off less. */
export const PART = [0.27, 0.73] as const;

/**
 * The true rim where a pencil line or a front was taken for a side: three sides shared, the same layer beyond.
 * @param alone whether somebody said that the photo shows no other plate, so that what lies beyond can be none
 */
export function outermost(start: Judged, all: readonly Judged[], alone: boolean): Judged {
  let best = start;
  for (let round = 0; round < 4; round++) {
    const wider = all.find((one) => one !== best && extendsLayer(best, one, alone));
    if (!wider) break;
    best = wider;
  }
  return best;
}

/** Lines nearer than this share of the outline's size are one. */
const SAME_LINE = 0.02;

function extendsLayer(inner: Judged, outer: Judged, alone: boolean): boolean {
  if (quadArea(outer.quad) <= 1.03 * quadArea(inner.quad) || outer.edge < 0.5 * inner.edge) return false;
  const slack = slackOf(inner);
  if (!contains(outer.quad, inner.quad, -Math.max(2, slack))) return false;
  const moved = movedSides(outer, inner, slack);
  const lone = moved.length === 1 || (moved.length === 2 && moved[1] - moved[0] === 2);
  if (!lone && !moved.every((i) => outer.sides[i].framed)) return false;
  const boldest = Math.max(...outer.sides.map((side) => side.step));
  const part = quadArea(inner.quad) / quadArea(outer.quad);
  return moved.every((i) => {
    const before = inner.sides[i];
    const after = outer.sides[i];
    const rim = after.framed ? boldest : after.step;
    const drift = colourDistance(before.inside, after.inside);
    if (
      moved.length === 1 &&
      strip(outer.sides, i, drift, part) &&
      shownBetween(outer.candidate, inner, i, moved, ALL_ALONG)
    )
      return true;
    if (alone && moved.length === 1 && (litOtherwise(outer, inner, i) || goesOnBesides(outer, inner, i, part)))
      return true;
    if (sameBeyond(before, rim, drift) && shownBetween(outer.candidate, inner, i, moved, ALL_ALONG)) return true;
    if (moved.length === 1 && betterRim(outer, inner, i) && shownBetween(outer.candidate, inner, i, moved, ALL_ALONG))
      return true;
    return noRim(before, rim, drift, part) && shownBetween(outer.candidate, inner, i, moved, GOES_ON);
  });
}

export function slackOf({ quad }: Judged): number {
  return SAME_LINE * Math.sqrt(quadArea(quad));
}

/** The sides of one that are not about the same line as the other's. */
export function movedSides(outer: Judged, inner: Judged, slack: number): number[] {
  return [0, 1, 2, 3].filter(
    (i) => outer.candidate.sides[i] !== inner.candidate.sides[i] && !alongside(outer, inner, i, slack),
  );
}

/** Whether side i of both is about the same line. */
function alongside(outer: Judged, inner: Judged, i: number, slack: number): boolean {
  const { nx, ny, rho } = outer.candidate.sides[i];
  return [i, (i + 1) & 3].every((k) => Math.abs(nx * inner.quad[k][0] + ny * inner.quad[k][1] - rho) < slack);
}

/**
 * What a side that only glare or a shadow draws across the layer steps at most, as a share of the rim beyond: more the better both
 * neighbouring sides are shown to go on to that rim.
 */
const LIT = { step: 0.45, shown: 0.35, least: 0.4, edge: 0.85, coherence: 0.85 };
/** A rim that steps so much more may step in two ways: bench and a sheet may lie beyond it. */
const BOLD = { step: 0.3, coherence: 0.5 };

/**
 * Whether an inner side may be the edge of glare, of a shadow or of what the stain wetted: the layer beyond looks otherwise, but the
 * sides beside it go on to another rim, that steps more and to the bench as the others do.
 */
function litOtherwise(outer: Judged, inner: Judged, i: number): boolean {
  const after = outer.sides[i];
  const others = outer.sides.filter((side, k) => k !== i && !side.framed);
  const [shown] = shownBeside(outer.candidate, inner, i).sort((a, b) => a - b);
  const part = inner.sides[i].step / after.step;
  const coherent = after.coherence >= (part < BOLD.step ? BOLD.coherence : LIT.coherence);
  if (after.framed || !coherent || outer.edge < LIT.edge * inner.edge || shown < LIT.least) return false;
  return part < LIT.step + LIT.shown * Math.min(1, shown) && leadsToBench(after, others);
}

/**
 * How far both sides beside a line go on as an edge (share of their length), what share of the whole the part is at most, how well the
 * whole is shown, over the part, and how coherent are the rim beyond and the sides that lead to it.
 */
const BESIDE = { shown: 0.75, part: 0.93, edge: 0.75, coherence: 0.85, sides: 0.7 };

/**
 * Whether both sides beside an inner side go on in the same lines to another rim: what lies beside a lone plate hardly ends in line with
 * it on both sides, while a pencil line, a front or the edge of glare may be bolder than the rim of a pale plate.
 */
function goesOnBesides(outer: Judged, inner: Judged, i: number, part: number): boolean {
  const after = outer.sides[i];
  if (after.framed || after.coherence < BESIDE.coherence || part > BESIDE.part) return false;
  if (outer.edge < BESIDE.edge * inner.edge) return false;
  const beside = [(i + 3) & 3, (i + 1) & 3].map((k) => outer.sides[k]);
  if (beside.some((side) => side.framed || side.coherence < BESIDE.sides)) return false;
  return Math.min(...shownBeside(outer.candidate, inner, i)) >= BESIDE.shown;
}

/** How many times better shown the sides of the whole plate are than those of a part of it. */
const BETTER = 1.08;
/** What steps less than this share of the weakest other side is no rim. */
const RIM = 0.6;

/** Whether the outer sides are shown better, and the inner one is no rim: a row of spots, or a line. */
function betterRim(outer: Judged, inner: Judged, i: number): boolean {
  const before = inner.sides[i];
  const others = inner.sides.filter((side, k) => k !== i && !side.framed);
  const weakest = Math.min(...others.map((side) => side.step));
  return outer.edge > BETTER * inner.edge && (before.step < RIM * weakest || !leadsToBench(before, others));
}

/**
 * Whether an inner side may be a line on the layer: the layer goes on beyond it, and its step is not that of the rim
 * (a narrow gap between two plates looks like a line too, but steps as boldly as their rims).
 * @param part the inner area over the outer
 * @param drift distance between the layer's colours inside the old side and the new one, codes
 */
function noRim(before: SideEvidence, rim: number, drift: number, part: number): boolean {
  const drawn = before.wide < DRAWN * before.step;
  if (drawn) {
    const noGap = part < PART[0] || part > PART[1] || before.step < 0.6 * rim || before.step > 1.5 * rim;
    return noGap && drift < 0.5 * Math.max(rim, before.step);
  }
  return before.wide < 0.15 * rim && before.step < 0.5 * rim && drift < 0.3 * rim;
}

/** Whether the same layer goes on beyond a side that steps far less than the rim: two plates side by side would show bench between them. */
function sameBeyond(before: SideEvidence, rim: number, drift: number): boolean {
  return before.step < 0.5 * rim && drift < 0.15 * rim;
}

/** Share of a neighbouring side that is an edge beyond a line on the layer, and beyond the rim of the stained part of one. */
const GOES_ON = 0.4;
const ALL_ALONG = 0.7;

/**
 * Whether a narrow strip beyond a side is layer of another shade, as where a stain or a front ends: it has a clear rim of
 * its own, beyond which lies bench as beyond the other sides, and is more like the layer than like that: a gap between two plates ends
 * at the second.
 */
function strip(sides: readonly SideEvidence[], i: number, drift: number, part: number): boolean {
  const after = sides[i];
  const others = sides.filter((side, k) => k !== i && !side.framed);
  return part > STRIP && !after.framed && after.coherence > 0.8 && drift < after.step && leadsToBench(after, others);
}

const STRIP = 0.8;

/** Whether a neighbouring side goes on as an edge between the old side i and the new one. */
function shownBetween(outer: Candidate, inner: Judged, i: number, moved: readonly number[], least: number): boolean {
  const neighbours = [(i + 3) & 3, (i + 1) & 3];
  return shownBeside(outer, inner, i).some((shown, k) => {
    return moved.includes(neighbours[k]) || outer.sides[neighbours[k]].border || shown > least;
  });
}

/** Share of each of the two neighbouring sides that is an edge between the old side i and the new one. */
function shownBeside(outer: Candidate, inner: Judged, i: number): number[] {
  const goesOn = (neighbour: number, corner: number) => {
    const from = outer.quad[corner];
    const to = inner.quad[corner];
    return supportBetween(outer.sides[neighbour], from[0], from[1], to[0], to[1]);
  };
  return [goesOn((i + 3) & 3, i), goesOn((i + 1) & 3, (i + 1) & 3)];
}
