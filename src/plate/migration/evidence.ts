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

/** How many heights are told at most. */
const MOST = 5;

/**
 * What may be the line, the weightiest first, each at a height of its own. Pieces of other looks at its height speak for a
 * height; of those that do, the one heaviest by itself says where it lies. Its weight is that of all that speaks for it.
 * @param height of the plate in rows
 */
export function ranked(looks: readonly Look[], height: number): Evidence[] {
  const all = looks.flatMap((look, i) =>
    look.map((piece) => {
      const others = looks.map((other, k) => (k === i ? null : bestNear(other, piece, height)));
      const weight = piece.weight + AGREED * others.reduce((sum, e) => sum + (e?.weight ?? 0), 0);
      return { ...others.reduce<Evidence>((a, b) => (b && b.weight > a.weight ? b : a), piece), weight };
    }),
  );
  const best: Evidence[] = [];
  for (const one of all.sort((a, b) => b.weight - a.weight)) {
    if (best.length >= MOST) break;
    if (best.every((other) => Math.abs(other.curve.y - one.curve.y) >= SAME * height)) best.push(one);
  }
  return best;
}

function bestNear(look: Look, { curve }: Evidence, height: number): Evidence | null {
  const near = look.filter((e) => Math.abs(e.curve.y - curve.y) < SAME * height);
  return near.reduce<Evidence | null>((a, b) => (a && a.weight >= b.weight ? a : b), null);
}
