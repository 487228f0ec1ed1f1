import type { RowCurve } from "./curves.ts";

/** Something that may be the origin, or the front. */
export interface Evidence {
  readonly curve: RowCurve;
  /** How far its points lie off the curve, in rows. */
  readonly rms: number;
  readonly weight: number;
}

/** What one way of looking at one photo shows. */
export type Look = readonly Evidence[];

/** Heights that are taken to be one, as a share of the plate's. */
const SAME = 0.008;
/** What another look adds that sees the same: less than its weight, since what misleads one may mislead the other. */
const AGREED = 0.5;

/** How well a height agrees with where people leave such a line: 1 there, falling off slowly. */
export function priorWeight(y: number, centre: number, sd: number): number {
  const t = (y - centre) / sd;
  return 1 / (1 + 0.5 * t * t);
}

/**
 * The weightiest piece of evidence. Pieces of other looks at its height speak for a height; of those that do, the one
 * heaviest by itself says where it lies.
 * @param height of the plate in rows
 * @param least what is no heavier, with all that speaks for it, counts as nothing
 */
export function weightiest(looks: readonly Look[], height: number, least = 0): Evidence | null {
  let best: Evidence | null = null;
  let most = least;
  looks.forEach((look, i) => {
    for (const piece of look) {
      const others = looks.map((other, k) => (k === i ? null : bestNear(other, piece, height)));
      const weight = piece.weight + AGREED * others.reduce((sum, e) => sum + (e?.weight ?? 0), 0);
      if (weight <= most) continue;
      most = weight;
      best = others.reduce<Evidence>((a, b) => (b && b.weight > a.weight ? b : a), piece);
    }
  });
  return best;
}

function bestNear(look: Look, { curve }: Evidence, height: number): Evidence | null {
  const near = look.filter((e) => Math.abs(e.curve.y - curve.y) < SAME * height);
  return near.reduce<Evidence | null>((a, b) => (a && a.weight >= b.weight ? a : b), null);
}
