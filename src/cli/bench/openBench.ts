import type { BenchBook, Result, RunBench, RunFile, StageResult, TubeEntry, TubeLog } from "../../model/index.ts";
import { asDecided, entriesUpTo, replay, writtenOver } from "../../pipeline/index.ts";
import { foldBook, logTubes } from "../../planning/index.ts";
import { openRunFolder, readBench, readJournal, storedResult } from "../../store/index.ts";
import { currentReading } from "../decide/currentReading.ts";
import type { ReadingFlags } from "../reading/options.ts";
import { say } from "../terminal/runProgram.ts";

/** What a run folder says of the bench: its run file, and what was typed since. */
export interface Bench {
  readonly run: RunFile | null;
  readonly runBench: RunBench | null;
  readonly book: BenchBook;
  /** What was written into the tube log by hand. */
  readonly written: readonly TubeEntry[];
  /** Files of photos, in the folder's order. */
  readonly photos: readonly { readonly file: string; readonly path: string }[];
}

/** Opens run file and bench book of a folder; lines that cannot be read are told. Throws as `openRunFolder`. */
export async function openBench(folder: string): Promise<Bench> {
  const { run, photos } = await openRunFolder(folder);
  const { records, findings } = await readBench(folder);
  for (const finding of findings) say(`${finding.message} ${finding.remedy}`);
  const { log } = replay((await readJournal(folder)).lines).decisions;
  return { run, runBench: run?.bench ?? null, book: foldBook(records), written: log, photos };
}

/** A result, and when the photos were read; null for just now. */
export interface CurrentResult {
  readonly result: Result;
  readonly readAt: string | null;
}

/**
 * The result of the last reading where it still holds, else of a new one, with the decided pools in the place of the
 * suggested ones where there are any. `keep`: a new reading leaves its results in the folder, as `platepool read` would.
 */
export async function currentResult(folder: string, flags: ReadingFlags, keep = true): Promise<CurrentResult> {
  const { result, readAt } = await currentReading(folder, flags, keep);
  return { result: asDecided(result), readAt };
}

/** As `currentResult`, or null where the folder has neither photos nor results. */
export async function resultIfAny(folder: string, bench: Bench, flags: ReadingFlags): Promise<Result | null> {
  if (bench.photos.length === 0 && (await storedResult(folder)) === null) return null;
  return (await currentResult(folder, flags)).result;
}

/** Tubes of a run with volumes and notes, from the reading, the run file and what was written since. */
export function tubesOf(bench: Bench, result: Result): StageResult<TubeLog> {
  const count = Math.max(result.fractions.length, bench.run?.fractionCount ?? 0, 1);
  const notes = writtenOver([...(bench.runBench?.tubes ?? []), ...bench.book.tubes], entriesUpTo(bench.written, count));
  const first = bench.book.plan?.steps[0]?.eluent ?? bench.runBench?.column?.steps[0]?.eluent ?? null;
  return logTubes(count, bench.run?.volumeMl ?? null, notes, first);
}
