import { type Act, type DecidedPool, type Decisions, PlatepoolError, type Result } from "../../model/index.ts";
import {
  type Divided,
  describeAct,
  groundsOf,
  judgeAct,
  presentDivision,
  redecided,
  replay,
} from "../../pipeline/index.ts";
import { digestOf, keepAct, readJournal, replaceStoredResult, storedResult } from "../../store/index.ts";
import { print } from "../bench/asked.ts";
import type { ReadingFlags } from "../reading/options.ts";
import { renewReport } from "../reading/renewReport.ts";
import { EXIT, say } from "../terminal/runProgram.ts";
import { type CurrentReading, currentReading } from "./currentReading.ts";
import { divisionLines } from "./tellDivision.ts";

/** Makes an act for the state there is, whatever it was when the command was typed. */
export type MakeAct = (now: Decisions, result: Result) => Act;

/** How all stands after the act, in lines. */
export type TellState = (result: Result) => readonly string[] | Promise<readonly string[]>;

/** An act that divides the tubes anew, from the division as it stands. */
export function dividing(change: (result: Result, pools: readonly DecidedPool[]) => Divided): MakeAct {
  return (now, result) => ({ kind: "divide", ...change(result, presentDivision(result, now.division)) });
}

/**
 * Keeps an act in the run folder, then tells what was done and how all stands now. It is judged against the
 * newest state, under the folder's lock; what others decided since the command began is told. Returns the exit status.
 */
export async function keep(
  folder: string,
  flags: ReadingFlags,
  make: MakeAct,
  tell: TellState = divisionLines,
): Promise<number> {
  const before = await currentReading(folder, flags, true);
  const { result } = before;
  if (result.fractions.length === 0)
    throw new PlatepoolError("no-tubes", "no tube shows on the plates, so there is nothing to decide");
  const kept = await keepAct(folder, new Date().toISOString(), (lines) => {
    const now = replay(lines).decisions;
    if (redecided(result, now, before.run) === null)
      throw new PlatepoolError(
        "decision-overtaken",
        "the reading was mended meanwhile, so this was not kept: do it once more",
      );
    const act = make(now, result);
    judgeAct(act, now, result, null);
    return { act, on: digestOf(groundsOf(result, act)) };
  });
  for (const f of kept.findings) say(`${f.message} ${f.remedy}`);
  const { decisions, history } = replay(kept.lines);
  if (kept.line.id !== before.decisions.last + 1)
    say(`something else was decided meanwhile (up to act ${kept.line.id - 1}); this came after it`);
  const after = redecided(result, decisions, before.run);
  if (after) await leave(folder, before, after);
  const now = after ?? (await currentReading(folder, flags, true)).result;
  if (!flags.quiet) print([`act ${kept.line.id}: ${describeAct(history[history.length - 1])}`, ...(await tell(now))]);
  return EXIT.read;
}

/** Leaves a division in the folder's results; what another process decided while this one wrote is not written over. */
async function leave(folder: string, before: CurrentReading, after: Result): Promise<void> {
  const stored = before.stored ?? (await storedResult(folder));
  if (!stored) return;
  for (let now: Result | null = after; now; ) {
    await replaceStoredResult(folder, stored, `${JSON.stringify(now, null, 2)}\n`);
    await renewReport(folder, now);
    const { decisions } = replay((await readJournal(folder)).lines);
    now = decisions.last === now.decisions?.last ? null : redecided(now, decisions, before.run);
  }
}
