import { NO_DECISIONS, type ReadSettings } from "../model/index.ts";
import { assemble } from "./assemble.ts";
import { decideComponents } from "./decideComponents.ts";
import { decidedPools } from "./decided.ts";
import type { GroupReading, PhotoReading } from "./group.ts";
import { groupPhotos } from "./groupPhotos.ts";
import { type NamedPlate, nameLanes } from "./nameLanes.ts";
import type { RunInput, RunReading } from "./run.ts";
import { sameAgain } from "./sameAgain.ts";
import { missingPhoto, unlistedPhoto } from "./unread.ts";

/**
 * The second half of `readRun`: from the groups as they were read to the result. Quick; to be done again after a plate
 * was mended, with its group read anew, or after a division.
 */
export function decideRun(input: RunInput, settings: ReadSettings, read: readonly GroupReading[]): RunReading {
  const { files, run, decisions = NO_DECISIONS } = input;
  const { missing, unlisted } = groupPhotos(files, run);
  const named = nameLanes(read);
  const plates = named.map((p) => p.reading);
  const { expected } = input;
  const options = { fractionCount: run?.fractionCount ?? null, volumeMl: run?.volumeMl ?? null, ...settings, expected };
  const elution = decideComponents(plates, decisions.components, options);
  const photos = inFolderOrder(files, [
    ...read.flatMap((g) => g.photos),
    ...unlisted.map(unlistedPhoto),
    ...missing.map(missingPhoto),
  ]);
  const findings = [
    ...input.findings,
    ...read.flatMap((g) => g.findings),
    ...named.flatMap((p) => p.findings),
    ...(run?.plates ? [] : sameAgain(named)),
    ...elution.findings,
  ];
  const suggested = assemble({
    run: run?.run ?? null,
    settings,
    photos,
    plates: named,
    elution: elution.value,
    findings,
  });
  const unmet = [...named.flatMap((p) => p.unmet), ...elution.unmet];
  return {
    result: decidedPools(suggested, decisions, { run, unmet }),
    plates,
    elution: elution.value,
    ...shownPictures(named, photos),
    crashes: read.flatMap((g) => g.crashes),
  };
}

/**
 * The pictures of a run, for a reading that was decided on the same groups before their pictures were made: deciding needs
 * none, and both can go on at once.
 */
export function runPictures({ files }: Pick<RunInput, "files">, read: readonly GroupReading[]): RunPictures {
  const photos = read.flatMap((g) => g.photos);
  return shownPictures(nameLanes(read), inFolderOrder(files, photos));
}

type RunPictures = Pick<RunReading, "straightened" | "photos">;

function shownPictures(plates: readonly NamedPlate[], photos: readonly PhotoReading[]): RunPictures {
  return {
    straightened: plates.flatMap((p) => p.straightened.map((s) => ({ ...s, plate: p.reading.id }))),
    photos: photos.flatMap(({ file, picture }) => (picture ? [{ file, ...picture }] : [])),
  };
}

/** The folder's order first, then what only the run file names. */
function inFolderOrder(files: readonly string[], photos: readonly PhotoReading[]): PhotoReading[] {
  const place = new Map(files.map((file, i) => [file, i]));
  const rank = (p: PhotoReading) => place.get(p.file) ?? files.length;
  return [...photos].sort((a, b) => rank(a) - rank(b));
}
