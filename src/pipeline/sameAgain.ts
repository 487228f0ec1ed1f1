import type { Finding } from "../model/index.ts";
import { alikeUnderOtherLight } from "./likePlates.ts";
import type { NamedPlate } from "./nameLanes.ts";
import { namedPlates } from "./pairPhotos.ts";

/** Correlation of what stands out on two photos from which on they may be of one plate. */
const PERHAPS = 0.3;

/**
 * Plates that nobody listed and that look like one plate under two lights, though not enough to be read as one, and whose photos' names do
 * not tell two: the doubt is said, of each plate once, for the pair most alike.
 */
export function sameAgain(plates: readonly NamedPlate[]): Finding[] {
  const files = ({ reading }: NamedPlate) => reading.photos.map(({ file }) => file);
  const say = namedPlates([...new Set(plates.flatMap(files))]);
  const pairs = plates.flatMap((a, i) =>
    plates.slice(i + 1).flatMap((b) => {
      if (files(a).some((one) => files(b).some((other) => say(one, other) === "two"))) return [];
      const alike = alikeUnderOtherLight(a, b);
      return alike > PERHAPS ? [{ a, b, alike }] : [];
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

function doubtOf({ reading: a }: NamedPlate, { reading: b }: NamedPlate): Finding {
  const [first, second] = [a.photos[0].file, b.photos[0].file];
  return {
    code: "perhaps-one-plate",
    message: `${first} and ${second} may show one plate under two lights; they are read as two plates.`,
    remedy: "List the plates in run.yaml, or name the photos alike (p1-254, p1-stain).",
    where: { plate: b.id, photo: second },
  };
}
