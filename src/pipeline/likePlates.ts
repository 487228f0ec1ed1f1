import type { MigrationLine } from "../model/index.ts";
import { halfTurned, likeness } from "../plate/register/index.ts";
import type { GroupPlate } from "./group.ts";

/** How far two readings of one plate may lie apart: heights of a line, as a share of the plate's, and height over width. */
const LINES = 0.02;
const ASPECT = 0.08;
/** Plates so alike are not asked whether their lines agree, for one may have been taken wrongly; and narrow ones differ so much more in shape. */
const PLAINLY = { alike: 0.6, aspect: 0.12 };

/**
 * How alike two plates look that may be one under two lights, as they stand or with one upside down: correlation of what stands out on
 * them. -1 where they cannot be one: the light or the shape says no or, unless they are plainly alike, origin or front where both were
 * found.
 */
export function alikeUnderOtherLight(a: GroupPlate, b: GroupPlate): number {
  if (a.look === undefined || b.look === undefined) return -1;
  const lights = a.reading.photos.map((p) => p.light);
  if (b.reading.photos.some((p) => lights.includes(p.light))) return -1;
  const apart = Math.abs(a.reading.aspect / b.reading.aspect - 1);
  if (apart > PLAINLY.aspect) return -1;
  const alike = Math.max(likeness(a.look, b.look), likeness(a.look, halfTurned(b.look)));
  return alike > PLAINLY.alike || (apart <= ASPECT && linesAgree(a, b)) ? alike : -1;
}

function linesAgree({ reading: a }: GroupPlate, { reading: b }: GroupPlate): boolean {
  const agree = (p: MigrationLine, q: MigrationLine) =>
    p.source !== "found" || q.source !== "found" || Math.abs(p.y - q.y) < LINES;
  return agree(a.origin, b.origin) && agree(a.front, b.front);
}
