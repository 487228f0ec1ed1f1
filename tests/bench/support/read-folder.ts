import { readFolder } from "../../../src/cli/reading/readFolder.ts";
import type { WorkerPool } from "../../../src/cli/workers/pool.ts";
import type { ReadSettings, Result } from "../../../src/model/index.ts";

const SETTINGS: ReadSettings = { policy: "balance", want: null };
const SILENT = { step: () => undefined, clear: () => undefined };

/** Reads a run folder as `platepool read --json` does. */
export async function readQuietly(folder: string, pool: WorkerPool): Promise<Result> {
  const { result } = await readFolder(folder, { settings: SETTINGS, pictures: false }, pool, SILENT);
  return result;
}
