import type { Quad } from "../../model/index.ts";
import type { Sketch } from "../../raster/shrink.ts";
import { type InsideEvidence, judgeInside } from "./inside.ts";
import { type KnownSides, knownSides } from "./knownSides.ts";
import type { Candidate } from "./quads.ts";
import type { SideEvidence, SideStep } from "./sides.ts";

/** A candidate with all that the picture says of it. */
export interface Judged {
  readonly candidate: Candidate;
  readonly quad: Quad;
  readonly sides: readonly SideEvidence[];
  readonly inside: InsideEvidence;
  /** How well the four sides are shown, 0..1. */
  readonly edge: number;
  /** Sides and inside together, 0..1. */
  readonly score: number;
}

const FRAMED = 0.35;
/**
 * What is left of the score of a clear outline with nothing even inside: spots and stain may fill a plate, above all glowing
 * ones a dark plate.
 */
const UNEVEN = { dark: 0.4, light: 0.15 };
/** Mean level of a layer under 365 nm, codes, at most. */
const DARK = 110;
/** A side whose wide step is less than this part of its step is a drawn line, or a narrow gap, and no rim. */
export const DRAWN = 0.3;
const LOOK_INSIDE = 24;

/**
 * Looks at candidates in the sketch: a step of one kind all along each side, and one smooth layer within.
 * Best first; the insides of those with poor sides are not looked at, and they are dropped.
 * @param noise standard deviation of the sketch's noise, codes
 */
export function judgeCandidates(sketch: Sketch, candidates: readonly Candidate[], noise: number): Judged[] {
  return bestShown(sketch, candidates, noise)
    .map(({ candidate, sides, edge }) => {
      const inside = judgeInside(sketch, candidate.quad, noise);
      const uneven = inside.level < DARK ? UNEVEN.dark : UNEVEN.light;
      const score = edge * (uneven + (1 - uneven) * inside.smooth);
      return { candidate, quad: candidate.quad, sides, inside, edge, score };
    })
    .sort((a, b) => b.score - a.score);
}

/** The candidates with the best sides, as many as are looked into, best first. */
function bestShown(sketch: Sketch, candidates: readonly Candidate[], noise: number) {
  const best: { candidate: Candidate; sides: readonly SideEvidence[]; edge: number }[] = [];
  const known = knownSides(sketch);
  for (const candidate of candidates) {
    const bar = best.length < LOOK_INSIDE ? -1 : best[LOOK_INSIDE - 1].edge;
    const steps = stepsOf(candidate, known, noise, bar);
    if (!steps) continue;
    const sides = steps.map(known.evidence);
    const edge = edgeScore(sides, noise);
    // It is no number where a side shows nothing at all, neither at it nor farther in.
    if (!(edge > bar)) continue;
    // Of equals the first stays before.
    let at = best.length;
    while (at > 0 && best[at - 1].edge < edge) at--;
    best.splice(at, 0, { candidate, sides, edge });
    if (best.length > LOOK_INSIDE) best.pop();
  }
  return best;
}

/** The steps at its four sides; null where those seen so far leave it no chance of an edge score above `bar`. */
function stepsOf(candidate: Candidate, known: KnownSides, noise: number, bar: number): SideStep[] | null {
  const steps: SideStep[] = [];
  for (let i = 0; i < 4; i++) {
    steps.push(known.step(candidate, i));
    if (edgeAtMost(steps, noise) <= bar) return null;
  }
  return steps;
}

/**
 * What the edge score is at most, whatever the sides not seen yet, and what lies farther off, are like: they can do no more than be
 * perfect, and no bolder.
 */
function edgeAtMost(sofar: readonly SideStep[], noise: number): number {
  let boldest = 0;
  for (const side of sofar) boldest = Math.max(boldest, side.step);
  let product = 1;
  for (const side of sofar) product *= stepScore(side, noise, boldest);
  return Math.sqrt(Math.sqrt(product));
}

function edgeScore(sides: readonly SideEvidence[], noise: number): number {
  const boldest = Math.max(...sides.map((side) => side.step));
  let product = 1;
  sides.forEach((side, i) => {
    product *= sideScore(side, noise, boldest) * (side.framed ? 1 : likeOthers(sides, i));
  });
  return Math.sqrt(Math.sqrt(product));
}

/** One side in one number, 0..1. */
function sideScore(side: SideEvidence, noise: number, boldest: number): number {
  const score = stepScore(side, noise, boldest);
  if (side.framed) return score;
  const drawn = side.wide < DRAWN * side.step ? 0.7 : 1;
  return score * drawn * (0.4 + 0.6 * side.local);
}

/**
 * The step at one side in one number, 0..1. It is held against the boldest of the four sides: a pencil line or a solvent front
 * across the layer is a side of the plate's own parts, and much fainter than the plate's rim.
 */
function stepScore({ coherence, step, framed }: SideStep | SideEvidence, noise: number, boldest: number): number {
  if (framed) return FRAMED;
  const coherent = Math.max(0.02, (coherence - 0.35) / 0.65);
  return coherent * (step / (step + 3 * noise + 1 + 0.15 * boldest));
}

/** Whether the layer at this side looks like that at the other three: 1 it does, 0.4 it is something else. */
function likeOthers(sides: readonly SideEvidence[], i: number): number {
  let square = 0;
  for (let c = 0; c < 3; c++) {
    let others = 0;
    for (let k = 0; k < 4; k++) if (k !== i) others += sides[k].inside[c] / 3;
    square += (sides[i].inside[c] - others) ** 2;
  }
  const ratio = square / Math.max(1, sides[i].step ** 2);
  return 0.4 + 0.6 / (1 + 0.5 * ratio);
}
