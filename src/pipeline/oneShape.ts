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

/**
 * Photos that are said to show one plate, so that its outlines must agree in shape: where they do not, each outline in turn
 * is taken for the plate's, the others are looked for anew in that shape, and what is then surest of all is kept. So a sheet
 * of paper, a front or the end of a stain that passed for the plate in one photo is put right by another.
 * @param looks one a photo; those that show several plates are left as they are
 * @param again looks at a photo once more, for a plate of a known shape
 */
export async function agreeOnShape(
  looks: readonly Look[],
  again: (photo: number, shape: ShapeRange) => Promise<Look>,
): Promise<readonly Look[]> {
  const shapes = looks.map(shapeIn);
  const known = shapes.filter((shape) => shape !== null);
  if (known.every((shape) => mayBeOnePlate(shape, known[0])) && !looks.some(showsNone)) return looks;
  let best = { looks, worth: Number.NEGATIVE_INFINITY };
  for (const shape of known) {
    const fitted: Look[] = [];
    let worth = 0;
    for (const [i, look] of looks.entries()) {
      const one = await inShape(shape, look, () => again(i, shape));
      fitted.push(one.look);
      worth += Math.log(one.sureness);
    }
    if (worth > best.worth) best = { looks: fitted, worth };
  }
  return best.looks;
}

async function inShape(shape: ShapeRange, look: Look, again: () => Promise<Look>) {
  const before = surenessOf(look, null);
  if (before === null && !showsNone(look)) return { look, sureness: 1 };
  const asItIs = surenessOf(look, shape);
  if (asItIs !== null) return { look, sureness: asItIs };
  const found = await again();
  const sureness = surenessOf(found, shape);
  const least = look.light === "uv254" ? AS_WELL.glowing : AS_WELL.other;
  return sureness !== null && sureness >= least * (before ?? 0)
    ? { look: found, sureness }
    : { look, sureness: NOTHING };
}

/** How sure the one plate of a photo is; null where it shows none or several, or one of another shape. */
function surenessOf(look: Look, shape: ShapeRange | null): number | null {
  const own = shapeIn(look);
  return own !== null && "plates" in look && (shape === null || mayBeOnePlate(own, shape))
    ? look.plates[0].sureness
    : null;
}

function shapeIn(look: Look): ShapeRange | null {
  if (!("plates" in look) || look.plates.length !== 1) return null;
  return shapeRange(look.plates[0].quad, look.picture.width, look.picture.height);
}

/** Whether it could be decoded, but no plate was found in it. */
function showsNone(look: Look): boolean {
  return !("plates" in look) && look.width > 0;
}
