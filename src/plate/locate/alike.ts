import type { Light, Quad } from "../../model/index.ts";
import { quadArea } from "./geometry.ts";
import type { Judged } from "./judge.ts";
import { colourDistance, type SideEvidence } from "./sides.ts";

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
export function alike(a: Judged, b: Judged, listed: boolean): boolean {
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

/** Times by which paper, or a ruler, outshines the bench under a lamp that is known, in a photo that is dark. */
const OUTSHINES = 1.6;

/** Times by which paper is bluer than green where the light is known to be of 254 nm, under which a clipped layer is nearly white. */
const BLUER = 1.08;

/**
 * Bluish white or wholly clipped, with violet or dark blue around: paper, whose brighteners glow at 365 nm.
 * @param light where somebody said it
 */
export function glowsLikePaper(one: Judged, light: Light | null): boolean {
  const [r, g, b] = meanColour(one, (side) => side.inside);
  const [, g0, b0] = meanColour(one, (side) => side.outside);
  const lamp = light === "uv365";
  const bright = b >= 170 || (lamp && g > OUTSHINES * g0 && b > b0);
  const blue = b >= (light === "uv254" ? BLUER : 0.98) * g;
  return bright && blue && g >= 0.98 * r && r > (lamp ? 0.45 : 0.5) * b && b0 > 1.5 * g0;
}
