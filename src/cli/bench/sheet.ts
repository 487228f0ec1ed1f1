import { join } from "node:path";
import { type BenchSheet, PlatepoolError, type RackLayout, type Result } from "../../model/index.ts";
import { buildSheet, parseVolumeMl, planAgain, recoverMass, type SecondRun, tubeAt } from "../../planning/index.ts";
import { sheetHtml } from "../../report/planning/index.ts";
import { openResults } from "../../store/index.ts";
import type { ReadingFlags } from "../reading/options.ts";
import { EXIT, say } from "../terminal/runProgram.ts";
import { print } from "./asked.ts";
import { type Bench, currentResult, openBench, tubesOf } from "./openBench.ts";
import { type PlanFlags, parseRack } from "./planFlags.ts";
import { planState } from "./planState.ts";

/** What is asked of the sheet itself. */
export interface SheetAsked extends Pick<PlanFlags, "rack" | "fill" | "start"> {
  readonly racks?: string;
  readonly largestFlask?: string;
}

export type SheetFlags = ReadingFlags & SheetAsked;

/** `platepool sheet FOLDER`: writes the bench sheet; returns the exit status. */
export async function sheet(folder: string, flags: SheetFlags): Promise<number> {
  const bench = await openBench(folder);
  const { result } = await currentResult(folder, flags);
  if (result.fractions.length === 0)
    throw new PlatepoolError("no-tubes", "no tube shows on the plates, so there is nothing to combine");
  const made = makeSheet(bench, result, flags);
  for (const f of made.findings) say(`${f.message} ${f.remedy}`);
  const results = await openResults(folder);
  await results.write("sheet.html", sheetHtml(made, tubeAt));
  if (!flags.quiet) {
    const flasks = made.pools.flatMap((p) =>
      p.flask
        ? [
            `${p.id}: ${p.volumeMl.toFixed(0)} mL, ${p.flask.portions > 1 ? `${p.flask.portions} portions in ` : ""}${p.flask.flaskMl} mL flask. ${p.action}`,
          ]
        : [],
    );
    print([...flasks, ...made.runAgain, `bench sheet: ${join(folder, "results", "sheet.html")}`]);
  }
  return EXIT.read;
}

/** The bench sheet of a result, from all that is known of the bench. */
export function makeSheet(bench: Bench, result: Result, flags: SheetAsked): BenchSheet {
  const racks = flags.racks === undefined ? (bench.runBench?.racks ?? null) : wholeRacks(flags.racks);
  return buildSheet({
    result,
    log: tubesOf(bench, result),
    rack: rackOf(bench, flags),
    racks: racks ?? (rackOf(bench, flags) ? 1 : null),
    largestFlaskMl: flags.largestFlask
      ? parseVolumeMl(flags.largestFlask, "the largest flask")
      : (bench.runBench?.largestFlaskMl ?? null),
    again: secondRuns(bench, result),
  });
}

function rackOf(bench: Bench, flags: SheetAsked): RackLayout | null {
  const known = bench.runBench?.rack ?? bench.book.plan?.rack ?? null;
  return parseRack(flags, known) ?? known;
}

function wholeRacks(text: string): number {
  const n = Number(text);
  if (!Number.isInteger(n) || n < 1 || n > 50)
    throw new PlatepoolError("racks-unreadable", `--racks "${text}": give a whole number of racks from 1 to 50`);
  return n;
}

/** Second columns for the mixed pools, as far as their masses are known or can be estimated. */
function secondRuns(bench: Bench, result: Result): SecondRun[] {
  const { plan: first, check, want } = planState(bench, result);
  if (!first) return [];
  const weighed = recoverMass(bench.book.weighings, result.pools, null, null).pools;
  return result.pools
    .filter((pool) => pool.kind === "mixed" && pool.components.length > 1)
    .map((pool) =>
      planAgain(pool, {
        result,
        first,
        check,
        weighedMg: weighed.find((p) => p.pool === pool.id)?.massMg ?? null,
        givenMg: null,
        firstLoadMg: bench.book.loadMg ?? first.request.loadMg,
        want,
      }),
    );
}
