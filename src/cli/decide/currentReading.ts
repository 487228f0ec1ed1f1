import type { Decisions, Result, RunFile } from "../../model/index.ts";
import { redecided, replay } from "../../pipeline/index.ts";
import { lastSettings, openRunFolder, readJournal, type StoredResult, storedResult } from "../../store/index.ts";
import { asksOtherwise, type ReadingFlags, settingsOf } from "../reading/options.ts";
import { readFolder } from "../reading/readFolder.ts";
import { tellDoubts } from "../reading/tell.ts";
import { writeResults } from "../reading/writeResults.ts";
import { progressOn } from "../terminal/progress.ts";
import { openPool } from "../workers/pool.ts";

/** A reading with the decisions of now. */
export interface CurrentReading {
  /** The suggestion, and apart from it what was decided. */
  readonly result: Result;
  /** When the photos were read; null for just now. */
  readonly readAt: string | null;
  readonly decisions: Decisions;
  readonly run: RunFile | null;
  /** The result in the folder that this one was made from; null where the photos were read anew. */
  readonly stored: StoredResult | null;
}

/**
 * The last reading where it still holds, with the decisions made since; a new one where photos, run file or mendings are
 * newer, or where it is asked for under other settings. What is not asked for stays as it was set. `keep`: a new reading
 * leaves its results in the folder.
 * @throws PlatepoolError as `openRunFolder`; decisions-format, decisions-unreadable
 */
export async function currentReading(folder: string, flags: ReadingFlags, keep: boolean): Promise<CurrentReading> {
  const earlier = await lastSettings(folder);
  const last = await storedResult(folder);
  const stored = asksOtherwise(flags, earlier) ? null : last;
  const { run } = await openRunFolder(folder);
  const { lines, unusable } = await readJournal(folder);
  // Photos can be read without it, but nobody should combine tubes by a division that is not the one decided.
  if (unusable) throw unusable;
  const { decisions } = replay(lines);
  const result = stored && redecided(stored.result, decisions, run);
  if (stored && result) return { result, readAt: stored.readAt, decisions, run, stored };
  const progress = progressOn(process.stderr, flags.quiet ?? false);
  const settings = settingsOf(flags, earlier);
  const pool = openPool(flags.workers);
  try {
    const reading = await readFolder(folder, { settings, pictures: keep }, pool, progress);
    if (keep && reading.plates.length > 0) await writeResults(folder, reading, pool, progress);
    progress.clear();
    tellDoubts(reading);
    return { result: reading.result, readAt: null, decisions, run, stored: null };
  } finally {
    progress.clear();
    await pool.close();
  }
}
