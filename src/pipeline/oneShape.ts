import { mayBeOnePlate, type ShapeRange, shapeRange } from "../plate/rectify/index.ts";
import type { RejectedPhoto, SeenPhoto } from "./lookAt.ts";

type Look = SeenPhoto | RejectedPhoto;

/** Sureness that counts for a photo which shows nothing of the shape. */
const NOTHING = 0.15;
/**
 * An outline of the right shape must be shown at least such a part as well as the one that it replaces. What glows green is
 * seldom taken for anything but what it is: of 25 outlines that were wrong in 660 photos one was.
 */
const AS_WELL = { glowing: 0.9, other: 0.55 };

/** What outlines count that are as many as there are plates, but not of their shapes. */
const AS_MANY = 0.5;

/**
 * Photos that are said to show the same plates, so that their outlines must agree in shape: where they do not, the outlines of each
 * photo in turn are taken for the plates', the others are looked for anew in those shapes, and what is then surest of all is kept. So a
 * sheet of paper, a front or the end of a stain that passed for the plate in one photo is put right by another, and so are two black
 * plates that seemed one.
 * @param looks one a photo; those that show several plates instead of one are left as they are
 * @param count how many plates each should show
 * @param again looks at a photo once more, for plates of known shapes
 */
export async function agreeOnShape(
  looks: readonly Look[],
  count: number,
  again: (photo: number, shapes: readonly ShapeRange[]) => Promise<Look>,
): Promise<readonly Look[]> {
  const shown = looks.map((look) => shapesIn(look, count));
  const known = shown.filter((shapes) => shapes !== null);
  const all = shown.every((shapes, i) => shapes !== null || !mayShowMore(looks[i], count));
  if (all && known.every((shapes) => agree(shapes, known[0]))) return looks;
  let best = { looks, worth: Number.NEGATIVE_INFINITY };
  for (const shapes of known) {
    const fitted: Look[] = [];
    let worth = 0;
    for (const [i, look] of looks.entries()) {
      const one = await inShape(shapes, look, () => again(i, shapes));
      fitted.push(one.look);
      worth += Math.log(one.sureness);
    }
    if (worth > best.worth) best = { looks: fitted, worth };
  }
  return best.looks;
}

async function inShape(shapes: readonly ShapeRange[], look: Look, again: () => Promise<Look>) {
  const count = shapes.length;
  const before = surenessOf(look, count, null);
  if (before === null && !mayShowMore(look, count)) return { look, sureness: 1 };
  const asItIs = surenessOf(look, count, shapes);
  if (asItIs !== null) return { look, sureness: asItIs };
  const found = await again();
  // Of plates side by side, as many as there are is better than fewer, though a rim may not be quite where it should.
  const asMany = before === null && count > 1 ? surenessOf(found, count, null) : null;
  const sureness = surenessOf(found, count, shapes) ?? (asMany && AS_MANY * asMany);
  const least = look.light === "uv254" ? AS_WELL.glowing : AS_WELL.other;
  return sureness !== null && sureness >= least * (before ?? 0)
    ? { look: found, sureness }
    : { look, sureness: NOTHING };
}

/** How sure the least sure of a photo's plates is; null where it shows another number of plates, or others than of those shapes. */
function surenessOf(look: Look, count: number, shapes: readonly ShapeRange[] | null): number | null {
  const own = shapesIn(look, count);
  if (own === null || !("plates" in look) || (shapes !== null && !agree(own, shapes))) return null;
  return Math.min(...look.plates.map(({ sureness }) => sureness));
}

function shapesIn(look: Look, count: number): ShapeRange[] | null {
  if (!("plates" in look) || look.plates.length !== count) return null;
  return look.plates.map(({ quad }) => shapeRange(quad, look.picture.width, look.picture.height));
}

/** Whether outlines may be of the same plates, one by one from the left, or from the right where a photo was taken from the other side. */
function agree(some: readonly ShapeRange[], others: readonly ShapeRange[]): boolean {
  const may = (from: readonly ShapeRange[]) => some.every((shape, i) => mayBeOnePlate(shape, from[i]));
  return may(others) || may([...others].reverse());
}

/** Whether it could be decoded, but no plate was found in it, or fewer than there are. */
function mayShowMore(look: Look, count: number): boolean {
  return look.width > 0 && ("plates" in look ? look.plates.length : 0) < count;
}
