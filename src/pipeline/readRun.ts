import type { ReadSettings } from "../model/index.ts";
import { decideRun } from "./decideRun.ts";
import type { PhotoGroup } from "./group.ts";
import { groupPhotos } from "./groupPhotos.ts";
import { readTogether } from "./readTogether.ts";
import type { ReadGroups, RunInput, RunReading } from "./run.ts";

/**
 * From a folder's photos to the result. Pure but for `readGroups`, which reads bytes: the same photos, run file,
 * decisions and settings give the same result, whatever the order of reading.
 */
export async function readRun(input: RunInput, settings: ReadSettings, readGroups: ReadGroups): Promise<RunReading> {
  return decideRun(input, settings, await readTogether(runGroups(input, settings), readGroups));
}

/** The photos of a run in the groups that they are read in, with what was set and mended. */
export function runGroups({ files, run, decisions }: RunInput, { up }: Pick<ReadSettings, "up">): PhotoGroup[] {
  const mendings = decisions?.plates ?? [];
  return groupPhotos(files, run).groups.map((group) => ({
    ...group,
    ...(up && { up }),
    ...(mendings.length > 0 && { mendings }),
  }));
}
