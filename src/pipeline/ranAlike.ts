import type { GroupPlate } from "./group.ts";

type Ran = Pick<GroupPlate, "eluents" | "key">;

/**
 * Names what a plate ran in. In another eluent a substance has another Rf, so that only plates of one name say something of each
 * other; lanes of several eluents stand alone.
 */
export function ranIn({ eluents, key }: Ran): string {
  const [first = ""] = eluents;
  return eluents.every((one) => one === first) ? first : `each its own: ${key.photos[0]}, ${key.place}`;
}

/** The plates that ran in one eluent, together. */
export function ranAlike<T extends Ran>(plates: readonly T[]): T[][] {
  const together = new Map<string, T[]>();
  for (const plate of plates) together.set(ranIn(plate), [...(together.get(ranIn(plate)) ?? []), plate]);
  return [...together.values()];
}
