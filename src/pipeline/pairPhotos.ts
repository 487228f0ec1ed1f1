/** Words at the end of a photo's name that tell light or stain, not plate. */
const LIGHT_WORDS = new Set([
  "254",
  "uv254",
  "uv",
  "365",
  "366",
  "uv365",
  "uv366",
  "white",
  "vis",
  "visible",
  "day",
  "daylight",
]);
const STAIN_WORDS = new Set([
  ...["stain", "stained", "kmno4", "permanganate", "pma", "anisaldehyde", "anis", "vanillin"],
  ...["ninhydrin", "iodine", "i2", "cam", "dip", "dipped"],
]);

export interface NameParts {
  /** What is left of the name without light, stain and ending, in small letters. */
  readonly plate: string;
  /** The light or stain word, or null. */
  readonly view: string | null;
  readonly stain: string | null;
}

/** Takes `p1-254.jpg` or `Plate 2 KMnO4.png` apart. */
export function nameParts(file: string): NameParts {
  const words = file
    .replace(/\.[^.]+$/, "")
    .toLowerCase()
    .split(/[\s._-]+/)
    .filter((w) => w !== "" && w !== "nm");
  const last = words.at(-1) ?? "";
  const isStain = STAIN_WORDS.has(last);
  if (words.length < 2 || !(isStain || LIGHT_WORDS.has(last)))
    return { plate: words.join("-"), view: null, stain: null };
  return { plate: words.slice(0, -1).join("-"), view: last, stain: isStain ? last : null };
}

/**
 * What names say of two photos, "one" plate or "two"; null: nothing. One: they differ in a last letter, light or stain alone (01a and 01b). Two:
 * both tell their light and name different plates, or one of them shares all but the last letter with a third photo.
 * @param files names of all photos of the run
 */
export function namedPlates(files: readonly string[]): (a: string, b: string) => "one" | "two" | null {
  const stems = new Map(files.map((file) => [file, nameParts(file).plate.replace(/(?<=\d)-?[a-f]$/, "")]));
  const lettered = (file: string) => files.some((other) => other !== file && stems.get(other) === stems.get(file));
  const tellsLight = (file: string) => nameParts(file).view !== null;
  return (a, b) => {
    if (stems.get(a) === stems.get(b)) return "one";
    return lettered(a) || lettered(b) || (tellsLight(a) && tellsLight(b)) ? "two" : null;
  };
}

/**
 * Photos that by their names show one plate under several lights: the same words, then different light or stain words.
 * Conservative: names that say nothing pair with nothing. Whether the photos bear it out is for the reader to see.
 * @returns indexes into `files`, in order; every photo stands in exactly one group
 */
export function pairPhotos(files: readonly string[]): number[][] {
  const groups = new Map<string, number[]>();
  const views = new Map<string, Set<string>>();
  files.forEach((file, i) => {
    const { plate, view } = nameParts(file);
    const known = views.get(plate) ?? new Set();
    const key = view === null || known.has(view) ? `alone ${i}` : plate;
    if (view !== null && key === plate) views.set(plate, known.add(view));
    groups.set(key, [...(groups.get(key) ?? []), i]);
  });
  return [...groups.values()];
}
