import {
  type ColumnPlan,
  type PlanCheck,
  PlatepoolError,
  type Result,
  type StageResult,
  type TubeLog,
} from "../../model/index.ts";
import { checkPlan, planColumn, readingLetter, readingNames } from "../../planning/index.ts";
import { say } from "../terminal/runProgram.ts";
import { type Bench, tubesOf } from "./openBench.ts";
import { earlierRequest, hasPlan } from "./plannedColumn.ts";

/** The plan of a folder against its reading; components under the reading's letters. */
export interface PlanState {
  readonly plan: ColumnPlan | null;
  readonly check: PlanCheck | null;
  /** Null where no tube was read. */
  readonly log: StageResult<TubeLog> | null;
  readonly want: string | null;
  readonly names: Readonly<Record<string, string>>;
}

/** A plan against the tubes of a reading; null where none was read. */
export function checkAgainst(plan: ColumnPlan, bench: Bench, result: Result): PlanCheck | null {
  if (result.fractions.length === 0) return null;
  return checkPlan(plan, result, tubesOf(bench, result).value, bench.runBench?.rack ?? plan.request.rack);
}

/** The plan that counts; one that cannot be is told and left out, so that the rest of the work goes on. */
function planIfAny(bench: Bench): ColumnPlan | null {
  if (!hasPlan(bench)) return null;
  try {
    return planColumn(earlierRequest(bench));
  } catch (error) {
    if (!(error instanceof PlatepoolError)) throw error;
    say(`The plan is left out: ${error.message}`);
    return null;
  }
}

/** What is planned and what came of it. Throws as `logTubes`. */
export function planState(bench: Bench, result: Result): PlanState {
  const plan = planIfAny(bench);
  const log = result.fractions.length > 0 ? tubesOf(bench, result) : null;
  const check = plan && checkAgainst(plan, bench, result);
  const column = bench.runBench?.column ?? null;
  const want = plan?.request.want ?? column?.want ?? null;
  return {
    plan,
    check,
    log,
    want: want === null ? null : readingLetter(check, want),
    names: readingNames(check, { ...plan?.request.names, ...column?.names }),
  };
}
