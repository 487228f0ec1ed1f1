import { join } from "node:path";
import { tellPlan } from "../bench/tellPlan.ts";
import { progressOn } from "../terminal/progress.ts";
import { EXIT, say } from "../terminal/runProgram.ts";
import { openPool } from "../workers/pool.ts";
import { type ReadingFlags, settingsOf } from "./options.ts";
import { readFolder } from "./readFolder.ts";
import { poolLines, tellDoubts } from "./tell.ts";
import { resultJson, writeResults } from "./writeResults.ts";

export interface ReadOutput {
  /** True: the result goes to standard output and nothing is written. */
  readonly json: boolean;
}

/**
 * Reads a folder and prints or writes what came out.
 * @returns the exit status
 */
export async function read(folder: string, flags: ReadingFlags, { json }: ReadOutput): Promise<number> {
  const quiet = flags.quiet ?? false;
  const progress = progressOn(process.stderr, quiet);
  const settings = settingsOf(flags);
  const pool = openPool(flags.workers);
  try {
    const reading = await readFolder(folder, { settings, pictures: !json }, pool, progress);
    const found = reading.plates.length > 0;
    if (!json && found) await writeResults(folder, reading, pool, progress);
    progress.clear();
    tellDoubts(reading);
    if (!json && found) await tellPlan(folder, reading.result);
    if (!found) say(nothingRead(reading.result.photos.length));
    if (json) process.stdout.write(resultJson(reading));
    else if (found && !quiet)
      process.stdout.write(
        `${[...poolLines(reading.result), `report: ${join(folder, "results", "report.html")}`].join("\n")}\n`,
      );
    return found ? EXIT.read : EXIT.nothing;
  } finally {
    progress.clear();
    await pool.close();
  }
}

function nothingRead(photos: number): string {
  return photos === 0
    ? "nothing to read: put photos (JPEG, PNG, TIFF, WebP, HEIC) into the folder or into plates inside it"
    : "nothing could be read; results of an earlier reading, if there are any, stay as they are";
}
