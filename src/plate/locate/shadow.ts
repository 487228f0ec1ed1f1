import { contains, quadArea } from "./geometry.ts";
import type { Judged } from "./judge.ts";
import { movedSides, slackOf } from "./outermost.ts";
import { colourDistance, type SideEvidence } from "./sides.ts";

/**
 * A shadow takes the same share of all colours. How much darker it is at most, how much the shares of the three channels differ at
 * most (largest over smallest), and how many times as much those of the layer do, which has a colour of its own.
 */
const SHADE = { dark: 0.95, even: 1.04, own: 1.05, times: 2.5 };
/** Below this code the share of a channel is the camera's noise. */
const DARK = 40;
/**
 * How well the side is shown that the shadow falls from, and how well the outline with it, over that with the shadow; and how near the
 * colour beyond that side is to the shadow's, as a share of the side's step.
 */
const RIM = { coherence: 0.8, score: 0.8, shade: 0.5 };

/** Whether what lies within a side is the bench in the plate's own shadow, and no layer. */
export function shaded({ inside, outside, framed }: SideEvidence, layer: readonly number[]): boolean {
  if (framed || Math.min(...inside) < DARK) return false;
  const [shade, own] = [shares(inside, outside), shares(layer, outside)];
  if (Math.max(...shade) > SHADE.dark) return false;
  const [even, coloured] = [unlike(shade), unlike(own)];
  return even < SHADE.even && coloured > SHADE.own && coloured - 1 > SHADE.times * (even - 1);
}

function shares(of: readonly number[], to: readonly number[]): number[] {
  return of.map((code, c) => code / Math.max(1, to[c]));
}

function unlike(share: readonly number[]): number {
  return Math.max(...share) / Math.min(...share);
}

/** The plate without its shadow, where the rim of the shadow was taken for a side. */
export function outOfShadow(start: Judged, all: readonly Judged[]): Judged {
  const dark = [0, 1, 2, 3].filter((i) => shaded(start.sides[i], layerOf(start, i)));
  if (dark.length === 0 || dark.length > 2) return start;
  const slack = slackOf(start);
  const lit = all.filter((one) => {
    if (one.score < RIM.score * start.score || !contains(start.quad, one.quad, -slack)) return false;
    const farther = movedSides(start, one, slack);
    return (
      farther.every((i) => dark.includes(i)) &&
      dark.every((i) => movedSides(start, one, 0).includes(i) && leadsTo(one.sides[i], start.sides[i].inside)) &&
      one.sides.every((side, i) => !shaded(side, layerOf(one, i)))
    );
  });
  // The first rim that the shadow falls from: a front lies further in.
  return lit.sort((a, b) => quadArea(b.quad) - quadArea(a.quad))[0] ?? start;
}

/** Whether a side is shown all along and what lies beyond it is of the colour told. */
function leadsTo({ coherence, step, outside }: SideEvidence, shade: readonly number[]): boolean {
  return coherence >= RIM.coherence && colourDistance(outside, shade) < RIM.shade * step;
}

/** Median colour within the sides that are not this one. */
function layerOf(one: Judged, i: number): number[] {
  const others = one.sides.filter((_, k) => k !== i);
  return [0, 1, 2].map((c) => others.map(({ inside }) => inside[c]).sort((a, b) => a - b)[1]);
}
