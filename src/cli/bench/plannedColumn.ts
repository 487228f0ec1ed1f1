import type { BenchBook, ColumnRequest, RunBench, RunFile } from "../../model/index.ts";
import { completeRequest } from "../../planning/index.ts";

/** Where a plan may stand: the bench book and the run file. */
export interface PlanSources {
  readonly run: RunFile | null;
  readonly runBench: RunBench | null;
  readonly book: BenchBook;
}

/** Whether a plan was made, or run.yaml tells enough of the column for one. */
export function hasPlan({ book, runBench }: PlanSources): boolean {
  const column = runBench?.column ?? null;
  const load = book.loadMg ?? column?.loadMg ?? null;
  return book.plan !== null || (column !== null && column.steps.length > 0 && load !== null);
}

/** The plan that counts: the last one made; else the column that run.yaml tells of. */
export function earlierRequest({ run, runBench, book }: PlanSources): ColumnRequest {
  return book.plan ?? completeRequest({ loadMg: book.loadMg }, runBench, run?.volumeMl);
}
