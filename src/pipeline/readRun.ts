import { decideElution } from "../elution/index.ts";
import type { ElutionReading, Finding, PlateReading, ReadSettings, Result, RunFile } from "../model/index.ts";
import { assemble } from "./assemble.ts";
import type { GroupReading, JpegBytes, PhotoGroup, PhotoReading, StraightenedPicture } from "./group.ts";
import { groupPhotos } from "./groupPhotos.ts";
import { nameLanes } from "./nameLanes.ts";
import { sameAgain } from "./sameAgain.ts";
import { missingPhoto, unlistedPhoto } from "./unread.ts";

export interface RunInput {
  /** Names of the photos in the folder, in the order in which their lanes run on. */
  readonly files: readonly string[];
  readonly run: RunFile | null;
  /** Doubts that arose before reading. */
  readonly findings: readonly Finding[];
}

/** Reads the groups, in any order and in as many threads as there are; answers in the order of the groups. */
export type ReadGroups = (groups: readonly PhotoGroup[]) => Promise<readonly GroupReading[]>;

/** A run read: the result, and what it was made of. */
export interface RunReading {
  readonly result: Result;
  readonly plates: readonly PlateReading[];
  readonly elution: ElutionReading;
  /** Where pictures were asked for. */
  readonly straightened: readonly (StraightenedPicture & { readonly plate: string })[];
  readonly photos: readonly (JpegBytes & { readonly file: string })[];
  readonly crashes: readonly string[];
}

/**
 * From a folder's photos to the result. Pure but for `readGroups`, which reads bytes: the same photos, run file and
 * settings give the same result, whatever the order of reading.
 */
export async function readRun(input: RunInput, settings: ReadSettings, readGroups: ReadGroups): Promise<RunReading> {
  const { files, run } = input;
  const { groups, missing, unlisted } = groupPhotos(files, run);
  const read = await readGroups(settings.up ? groups.map((g) => ({ ...g, up: settings.up })) : groups);
  const named = nameLanes(read);
  const plates = named.map((p) => p.reading);
  const decided = decideElution(plates, {
    fractionCount: run?.fractionCount ?? null,
    volumeMl: run?.volumeMl ?? null,
    ...settings,
  });
  const photos = inFolderOrder(files, [
    ...read.flatMap((g) => g.photos),
    ...unlisted.map(unlistedPhoto),
    ...missing.map(missingPhoto),
  ]);
  const findings = [
    ...input.findings,
    ...read.flatMap((g) => g.findings),
    ...named.flatMap((p) => p.findings),
    ...(run?.plates ? [] : sameAgain(plates)),
    ...decided.findings,
  ];
  return {
    result: assemble({ run: run?.run ?? null, photos, plates: named, elution: decided.value, findings }),
    plates,
    elution: decided.value,
    straightened: named.flatMap((p) => p.straightened.map((s) => ({ ...s, plate: p.reading.id }))),
    photos: photos.flatMap(({ file, picture }) => (picture ? [{ file, ...picture }] : [])),
    crashes: read.flatMap((g) => g.crashes),
  };
}

/** The folder's order first, then what only the run file names. */
function inFolderOrder(files: readonly string[], photos: readonly PhotoReading[]): PhotoReading[] {
  const place = new Map(files.map((file, i) => [file, i]));
  const rank = (p: PhotoReading) => place.get(p.file) ?? files.length;
  return [...photos].sort((a, b) => rank(a) - rank(b));
}
