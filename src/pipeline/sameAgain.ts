import type { Finding, MigrationLine } from "../model/index.ts";
import { halfTurned, likeness } from "../plate/register/index.ts";
import type { NamedPlate } from "./nameLanes.ts";

/** How far two readings of one plate may lie apart: heights of a line, as a share of the plate's, and height over width. */
const LINES = 0.02;
const ASPECT = 0.04;
/** Correlation of what stands out on two photos of one plate: they may be one from the first on, and surely look it from the second. */
const ALIKE = { perhaps: 0.3, plainly: 0.6 };

/**
 * Plates that nobody listed and that look like one plate under two lights: the same things stand out at the same places, the shape is
 * the same and, unless it is plain to see, so are origin and front where both were found; but the light is another. They were read as
 * two; the doubt is said, of each plate once, for the pair most alike.
 */
export function sameAgain(plates: readonly NamedPlate[]): Finding[] {
  const pairs = plates.flatMap((a, i) =>
    plates.slice(i + 1).flatMap((b) => {
      const alike = alikeness(a, b);
      return alike > ALIKE.perhaps && (alike > ALIKE.plainly || linesAgree(a, b)) ? [{ a, b, alike }] : [];
    }),
  );
  const told = new Set<NamedPlate>();
  return pairs
    .sort((p, q) => q.alike - p.alike)
    .flatMap(({ a, b }) => {
      if (told.has(a) || told.has(b)) return [];
      told.add(a).add(b);
      return [doubtOf(a, b)];
    });
}

/** How alike two plates look, as they stand or with one upside down; -1 where they cannot be one plate under two lights. */
function alikeness(a: NamedPlate, b: NamedPlate): number {
  if (a.look === undefined || b.look === undefined) return -1;
  const lights = a.reading.photos.map((p) => p.light);
  if (b.reading.photos.some((p) => lights.includes(p.light))) return -1;
  if (Math.abs(a.reading.aspect / b.reading.aspect - 1) > ASPECT) return -1;
  return Math.max(likeness(a.look, b.look), likeness(a.look, halfTurned(b.look)));
}

function linesAgree({ reading: a }: NamedPlate, { reading: b }: NamedPlate): boolean {
  const agree = (p: MigrationLine, q: MigrationLine) =>
    p.source !== "found" || q.source !== "found" || Math.abs(p.y - q.y) < LINES;
  return agree(a.origin, b.origin) && agree(a.front, b.front);
}

function doubtOf({ reading: a }: NamedPlate, { reading: b }: NamedPlate): Finding {
  const [first, second] = [a.photos[0].file, b.photos[0].file];
  return {
    code: "perhaps-one-plate",
    message: `${first} and ${second} may show one plate under two lights; they are read as two plates.`,
    remedy: "List the plates in run.yaml, or name the photos alike (p1-254, p1-stain).",
    where: { plate: b.id, photo: second },
  };
}
