import type { BenchBook, Result, RunBench, RunFile, StageResult, TubeLog } from "../../model/index.ts";
import { foldBook, logTubes } from "../../planning/index.ts";
import { openRunFolder, readBench, storedResult } from "../../store/index.ts";
import { type ReadingFlags, settingsOf } from "../reading/options.ts";
import { readFolder } from "../reading/readFolder.ts";
import { tellDoubts } from "../reading/tell.ts";
import { writeResults } from "../reading/writeResults.ts";
import { progressOn } from "../terminal/progress.ts";
import { say } from "../terminal/runProgram.ts";
import { version } from "../version.ts";
import { openPool } from "../workers/pool.ts";

/** What a run folder says of the bench: its run file, and what was typed since. */
export interface Bench {
  readonly run: RunFile | null;
  readonly runBench: RunBench | null;
  readonly book: BenchBook;
  /** Files of photos, in the folder's order. */
  readonly photos: readonly { readonly file: string; readonly path: string }[];
}

/** Opens run file and bench book of a folder; lines that cannot be read are told. Throws as `openRunFolder`. */
export async function openBench(folder: string): Promise<Bench> {
  const { run, photos } = await openRunFolder(folder);
  const { records, findings } = await readBench(folder);
  for (const finding of findings) say(`${finding.message} ${finding.remedy}`);
  return { run, runBench: run?.bench ?? null, book: foldBook(records), photos };
}

/** A result, and when the photos were read; null for just now. */
export interface CurrentResult {
  readonly result: Result;
  readonly readAt: string | null;
}

/**
 * The result of the last reading where it still holds, else of a new one. `keep`: a new reading leaves its results in the
 * folder, as `platepool read` would.
 */
export async function currentResult(folder: string, flags: ReadingFlags, keep = true): Promise<CurrentResult> {
  const stored = await storedResult(folder);
  if (stored) return stored;
  const progress = progressOn(process.stderr, flags.quiet ?? false);
  const settings = settingsOf(flags);
  const pool = openPool(flags.workers);
  try {
    const reading = await readFolder(folder, { settings, pictures: keep }, pool, progress);
    const notes = { readOn: null, version: version(), demo: false, policy: settings.policy, want: settings.want };
    if (keep && reading.plates.length > 0) await writeResults(folder, reading, notes, pool, progress);
    progress.clear();
    tellDoubts(reading);
    return { result: reading.result, readAt: null };
  } finally {
    progress.clear();
    await pool.close();
  }
}

/** As `currentResult`, or null where the folder has neither photos nor results. */
export async function resultIfAny(folder: string, bench: Bench, flags: ReadingFlags): Promise<Result | null> {
  if (bench.photos.length === 0 && (await storedResult(folder)) === null) return null;
  return (await currentResult(folder, flags)).result;
}

/** Tubes of a run with volumes and notes, from the reading, the run file and what was typed since. */
export function tubesOf(bench: Bench, result: Result): StageResult<TubeLog> {
  const count = Math.max(result.fractions.length, bench.run?.fractionCount ?? 0, 1);
  const notes = [...(bench.runBench?.tubes ?? []), ...bench.book.tubes];
  const first = bench.book.plan?.steps[0]?.eluent ?? bench.runBench?.column?.steps[0]?.eluent ?? null;
  return logTubes(count, bench.run?.volumeMl ?? null, notes, first);
}
