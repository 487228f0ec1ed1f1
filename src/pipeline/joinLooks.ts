import type { PlateKey, PlateMending } from "../model/index.ts";
import type { GroupReading, PhotoGroup } from "./group.ts";
import { alikeUnderOtherLight } from "./likePlates.ts";
import { namedPlates } from "./pairPhotos.ts";
import type { GroupsRead, ReadGroups } from "./run.ts";

/**
 * Correlation of what stands out on two photos from which on they are read as one plate: where their names say nothing, and where they say so too.
 * Of 335 pairs of photos of one plate 269 are that alike, and of 999 of two plates, taken under two lights too, one is.
 */
const ALIKE = { unnamed: 0.45, named: 0.3 };

/**
 * Reads the groups of a run; photos that nobody listed or paired by name, and that show one plate under several lights, are then read
 * together. Each must be the one most like the other among all of its light; so what any two plates of a run have in common, lanes at
 * the same places and spots of the same Rf, joins none.
 */
export async function readJoined(groups: readonly PhotoGroup[], readGroups: ReadGroups): Promise<GroupsRead> {
  const first = await readGroups(groups);
  const sets = alikeSets(groups, first).filter((set) => set.length > 1);
  if (sets.length === 0) return { groups, readings: first };
  const joined = sets.map((set) => joinedGroup(set.map((i) => groups[i])));
  const read = await readGroups(joined);
  // Photos whose plates do not come to one shape, looked at together, stay apart.
  const kept = sets.flatMap((set, k) =>
    read[k].plates.length === first[set[0]].plates.length ? [{ set, group: joined[k], reading: read[k] }] : [],
  );
  const places = groups.flatMap((group, i) => {
    const one = kept.find(({ set }) => set.includes(i));
    if (one === undefined) return [{ group, reading: first[i] }];
    return one.set[0] === i ? [one] : [];
  });
  return { groups: places.map(({ group }) => group), readings: places.map(({ reading }) => reading) };
}

function joinedGroup(members: readonly PhotoGroup[]): PhotoGroup {
  return { ...members[0], photos: members.flatMap(({ photos }) => photos), alike: true };
}

/** Indexes of groups whose plates are the same, each set in order; a group alone is a set. */
function alikeSets(groups: readonly PhotoGroup[], readings: readonly GroupReading[]): number[][] {
  const pairs = bestPairs(groups, readings).sort((p, q) => q.alike - p.alike);
  let sets = groups.map((_, i) => [i]);
  for (const { a, b } of pairs) {
    const [one, other] = [a, b].map((i) => sets.find((set) => set.includes(i))!);
    if (one === other || shareALight(one, other, readings)) continue;
    sets = sets.filter((set) => set !== one && set !== other);
    sets.push([...one, ...other].sort((p, q) => p - q));
  }
  return sets;
}

/** Pairs alike enough, each the best of the other among all groups of its lights. */
function bestPairs(groups: readonly PhotoGroup[], readings: readonly GroupReading[]) {
  const named = namesOf(groups);
  const pairs = groups.flatMap((_, a) =>
    groups.flatMap((_, b) => {
      if (a >= b) return [];
      const say = named(a, b);
      const alike = alikeness(groups, readings, a, b, say === "two");
      return alike > -1 ? [{ a, b, alike, least: say === "one" ? ALIKE.named : ALIKE.unnamed }] : [];
    }),
  );
  const lights = readings.map((reading) => lightsOf(reading).sort().join(" "));
  const best = (one: number, light: string) =>
    Math.max(
      ...pairs
        .filter(({ a, b }) => (a === one && lights[b] === light) || (b === one && lights[a] === light))
        .map(({ alike }) => alike),
    );
  return pairs.filter(
    ({ a, b, alike, least }) => alike > least && alike === best(a, lights[b]) && alike === best(b, lights[a]),
  );
}

/** What the names of two groups' photos say: "one" where all do, "two" where any does. */
function namesOf(groups: readonly PhotoGroup[]): (a: number, b: number) => "one" | "two" | null {
  const files = groups.map(({ photos }) => photos.map(({ file }) => file));
  const say = namedPlates(files.flat());
  return (a, b) => {
    const all = files[a].flatMap((p) => files[b].map((q) => say(p, q)));
    if (all.includes("two")) return "two";
    return all.includes(null) ? null : "one";
  };
}

/**
 * How alike the plates of two groups are in the mean, from left to right; -1 where they cannot be the same, or a person took them for two.
 * @param told whether their names tell two plates; what a person did with them counts before that
 */
function alikeness(
  groups: readonly PhotoGroup[],
  readings: readonly GroupReading[],
  a: number,
  b: number,
  told: boolean,
): number {
  const [p, q] = [readings[a].plates, readings[b].plates];
  if (p.length === 0 || p.length !== q.length || !groups[a].looks || !groups[b].looks) return -1;
  const mended = mendedAs(groups[a].mendings ?? [], p[0].key, q[0].key);
  if (mended !== null) return mended === "one" ? 1 : -1;
  if (told) return -1;
  const each = p.map((plate, i) => alikeUnderOtherLight(plate, q[i]));
  return each.includes(-1) ? -1 : each.reduce((sum, alike) => sum + alike, 0) / each.length;
}

/** Whether a person mended two plates as one or one of them as a plate of its own; null: neither. */
function mendedAs(mendings: readonly PlateMending[], a: PlateKey, b: PlateKey): "one" | "two" | null {
  const of = (key: PlateKey, { photos }: PlateKey) => key.photos.some((file) => photos.includes(file));
  const touched = mendings.map(({ plate }) => [of(plate, a), of(plate, b)] as const);
  if (touched.some(([one, other]) => one !== other)) return "two";
  return touched.some(([one]) => one) ? "one" : null;
}

function shareALight(one: readonly number[], other: readonly number[], readings: readonly GroupReading[]): boolean {
  const lights = one.flatMap((i) => lightsOf(readings[i]));
  return other.some((i) => lightsOf(readings[i]).some((light) => lights.includes(light)));
}

function lightsOf({ plates }: GroupReading): string[] {
  return plates.flatMap(({ reading }, i) => (i === 0 ? reading.photos.map(({ light }) => light) : []));
}
