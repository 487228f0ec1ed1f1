import type { ReadSettings } from "../../model/index.ts";
import { type GroupReading, type PhotoGroup, type RunReading, readRun, replay } from "../../pipeline/index.ts";
import { openRunFolder, type PhotoFile, readJournal } from "../../store/index.ts";
import type { Progress } from "../terminal/progress.ts";
import { lostGroup } from "../workers/lostGroup.ts";
import type { WorkerPool } from "../workers/pool.ts";
import { expectedBands } from "./expectedBands.ts";

export interface ReadFolderOptions {
  readonly settings: ReadSettings;
  /** True to get the photos and plates as small JPEGs too. */
  readonly pictures: boolean;
}

/**
 * Reads a run folder with the threads of a pool.
 * @throws PlatepoolError as `openRunFolder` and `readJournal`
 */
export async function readFolder(
  folder: string,
  options: ReadFolderOptions,
  pool: WorkerPool,
  progress: Progress,
): Promise<RunReading> {
  const { photos, run, findings } = await openRunFolder(folder);
  const journal = await readJournal(folder);
  const { decisions, findings: unfit } = replay(journal.lines);
  const byName = new Map(photos.map((p) => [p.file, p]));
  const readGroups = async (groups: readonly PhotoGroup[]) => {
    const all = groups.reduce((n, g) => n + g.photos.length, 0);
    let done = 0;
    progress.step(0, all, "photos read");
    return Promise.all(
      groups.map(async (group) => {
        const reading = await readOne(group, byName, options.pictures, pool);
        done += group.photos.length;
        progress.step(done, all, "photos read");
        return reading;
      }),
    );
  };
  const input = {
    files: photos.map((p) => p.file),
    run,
    decisions,
    ...(await expectedBands(folder, run)),
    findings: [...findings, ...journal.findings, ...unfit],
  };
  return readRun(input, options.settings, readGroups);
}

async function readOne(
  group: PhotoGroup,
  byName: ReadonlyMap<string, PhotoFile>,
  pictures: boolean,
  pool: WorkerPool,
): Promise<GroupReading> {
  const photos = group.photos.map((p) => byName.get(p.file)!);
  try {
    return await pool.run({ kind: "read", group, photos, pictures });
  } catch (error) {
    return lostGroup(group, error);
  }
}
