import { posix } from "node:path";
import type { LaneName, RunFile, RunPhoto, RunPlate } from "../../model/index.ts";
import { spellBench, spellEluents } from "./bench.ts";
import type { YamlFault, YamlText } from "./document.ts";
import { spellLane } from "./lanes.ts";
import type { TypedRun } from "./schema.ts";

export interface SpelledRun {
  readonly run: RunFile;
  readonly faults: readonly YamlFault[];
  /** Doubts that cost nothing but a second look. */
  readonly doubts: readonly RunDoubt[];
}

/** A doubt with its line; turned into a finding by whoever knows the file's name. */
export interface RunDoubt extends YamlFault {
  readonly code: string;
  readonly remedy: string;
  readonly fraction: number;
}

/** Turns a run file of the right shape into nouns, and finds what is wrong between its parts. */
export function spellOut(typed: TypedRun, text: YamlText): SpelledRun {
  const faults: YamlFault[] = [];
  const plates = typed.plates?.map((plate, p): RunPlate => {
    const lanes = plate.lanes ? spellLanes(plate.lanes, p, text, faults) : null;
    if (plate.origin != null && plate.front != null && plate.front >= plate.origin)
      faults.push({
        line: text.lineOf(["plates", p, "front"]),
        message: `the front (${plate.front}) lies below the origin (${plate.origin}): both are counted from the top edge`,
      });
    return {
      photos: spellPhotos(plate.photos, p, text, faults),
      lanes,
      origin: plate.origin ?? null,
      front: plate.front ?? null,
      eluents: spellEluents(plate, p, lanes?.length ?? null, text, faults),
      ...(lanes === null ? {} : { lanesLine: text.lineOf(["plates", p, "lanes"]) }),
    };
  });
  const run: RunFile = {
    run: typed.run ?? null,
    fractionCount: typed.fractions?.count ?? null,
    volumeMl: typed.fractions?.volume_ml ?? null,
    ...(typed.up && { up: typed.up }),
    plates: plates ?? null,
    bench: spellBench(typed, text, faults),
  };
  return { run, faults, doubts: [...repeatedTubes(run), ...countTooSmall(run, text)] };
}

function spellLanes(
  entries: readonly (string | number)[],
  plate: number,
  text: YamlText,
  faults: YamlFault[],
): LaneName[] {
  return entries.flatMap((entry, i) => {
    const spelled = spellLane(entry);
    if ("lanes" in spelled) return spelled.lanes;
    faults.push({ line: text.lineOf(["plates", plate, "lanes", i]), message: spelled.fault });
    return [];
  });
}

function spellPhotos(
  photos: NonNullable<TypedRun["plates"]>[number]["photos"],
  plate: number,
  text: YamlText,
  faults: YamlFault[],
): RunPhoto[] {
  const seen = new Set<string>();
  return photos.map((photo, i) => {
    const line = text.lineOf(["plates", plate, "photos", i]);
    // Photos are known by their bare names, whether they stand in the folder or in its `plates`.
    const file = posix.normalize(photo.file.replaceAll("\\", "/")).replace(/^plates\//, "");
    if (file.includes("/") || file === ".." || file === ".")
      faults.push({
        line,
        message: `"${photo.file}" is outside the run folder: put the photo in it and write its bare name`,
      });
    if (seen.has(file)) faults.push({ line, message: `${file} is listed twice for one plate: take one away` });
    seen.add(file);
    const light = photo.light ?? (photo.stain != null ? "white" : null);
    return { file, line, light, stain: photo.stain ?? null, ...(photo.up && { up: photo.up }) };
  });
}

/** A tube may well be spotted twice; but a slip of the finger looks the same. */
function repeatedTubes(run: RunFile): RunDoubt[] {
  const first = new Map<number, { plate: number; line: number }>();
  const told = new Set<number>();
  const doubts: RunDoubt[] = [];
  for (const [p, plate] of (run.plates ?? []).entries())
    for (const { fraction } of plate.lanes ?? []) {
      if (fraction === null) continue;
      const line = plate.lanesLine ?? 1;
      const before = first.get(fraction);
      if (before === undefined) first.set(fraction, { plate: p, line });
      else if (!told.has(fraction)) {
        told.add(fraction);
        const where = before.plate === p ? "twice on one plate" : `also on line ${before.line}`;
        const message = `tube ${fraction} stands ${where}; every lane of it counts.`;
        doubts.push({
          code: "tube-repeated",
          line,
          message,
          remedy: "Mend the number if that is not meant.",
          fraction,
        });
      }
    }
  return doubts;
}

function countTooSmall(run: RunFile, text: YamlText): RunDoubt[] {
  const named = (run.plates ?? []).flatMap((p) => (p.lanes ?? []).map((l) => l.fraction ?? 0));
  const highest = Math.max(0, ...named);
  if (run.fractionCount === null || run.fractionCount >= highest) return [];
  const line = text.lineOf(["fractions", "count"]);
  const message = `count is ${run.fractionCount}, but tube ${highest} is on a plate; ${highest} tubes are taken.`;
  return [{ code: "count-too-small", line, message, remedy: "Mend one of the two.", fraction: highest }];
}
