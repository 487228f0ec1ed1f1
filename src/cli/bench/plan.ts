import { join } from "node:path";
import writeFileAtomic from "write-file-atomic";
import { type ColumnPlan, type ColumnRequest, type PlanCheck, PlatepoolError, type Result } from "../../model/index.ts";
import { completeRequest, massInWords, mixedPool, planAgain, planColumn, recoverMass } from "../../planning/index.ts";
import { planCsv, planHtml } from "../../report/planning/index.ts";
import { appendBench, openResults } from "../../store/index.ts";
import { EXIT, say } from "../terminal/runProgram.ts";
import { print } from "./asked.ts";
import { requestFromPlates } from "./fromPlate.ts";
import { type Bench, currentResult, openBench, resultIfAny } from "./openBench.ts";
import { asksForPlan, type PlanFlags, planOptions, typedRequest } from "./planFlags.ts";
import { earlierRequest, hasPlan } from "./plannedColumn.ts";
import { checkAgainst, planState } from "./planState.ts";
import { keepingRefused, typedText } from "./refused.ts";

/** `platepool plan [FOLDER]`: plans a column, or holds a plan against what the plates show; returns the exit status. */
export async function plan(folder: string | undefined, flags: PlanFlags): Promise<number> {
  if (flags.again !== undefined) {
    if (folder === undefined) throw new PlatepoolError("folder-not-named", "--again needs the folder of the run");
    return again(folder, flags);
  }
  if (folder === undefined) {
    const planned = planColumn(completeRequest(typedRequest(flags), null));
    tell(planned, null, flags);
    if (flags.out !== undefined)
      await writePage(flags.out, planHtml({ plan: planned, run: null, found: null, reasons: [] }));
    return EXIT.read;
  }
  return inFolder(folder, flags);
}

/** The component that a column is planned for is asked of the plan; the reading stays as it was set. */
function forReading(flags: PlanFlags): PlanFlags {
  return { ...flags, want: undefined };
}

async function writePage(file: string, html: string): Promise<void> {
  try {
    await writeFileAtomic(file, html);
  } catch {
    throw new PlatepoolError(
      "out-not-writable",
      "the page could not be written: check --out and that you may write there",
    );
  }
}

async function inFolder(folder: string, flags: PlanFlags): Promise<number> {
  const bench = await openBench(folder);
  const fresh = asksForPlan(flags) || !hasPlan(bench);
  const result = await resultIfAny(folder, bench, forReading(flags));
  const planned = await keepingRefused(folder, fresh ? typedText(planOptions(flags)) : "", () =>
    planColumn(fresh ? newRequest(bench, flags, result) : earlierRequest(bench)),
  );
  // A plan made now is of a column still to be run, unless the tubes are there already.
  const check = result && checkAgainst(planned, bench, result);
  if (fresh) await appendBench(folder, [{ kind: "plan", request: planned.request }], new Date().toISOString());
  await writePlan(folder, planned, result, check, []);
  tell(planned, check, flags);
  if (!flags.json && !flags.quiet) print([`plan: ${join(folder, "results", "plan.html")}`]);
  return EXIT.read;
}

function newRequest(bench: Bench, flags: PlanFlags, result: Result | null): ColumnRequest {
  const typed = typedRequest(flags, bench.runBench?.rack);
  const column = bench.runBench?.column ?? null;
  const said = typed.steps != null || (column !== null && column.steps.length > 0);
  const plates =
    said || result === null
      ? {}
      : requestFromPlates(result, bench.run, flags.eluent ?? null, flags.want ?? column?.want ?? null);
  const filled = Object.fromEntries(Object.entries(typed).filter(([, value]) => value != null));
  return completeRequest(
    { ...plates, ...filled, ...(plates.want && { want: plates.want }) },
    bench.runBench,
    bench.run?.volumeMl,
  );
}

async function writePlan(
  folder: string,
  planned: ColumnPlan,
  result: Result | null,
  check: PlanCheck | null,
  reasons: readonly string[],
  name = "plan",
): Promise<void> {
  const results = await openResults(folder);
  const found = check && result ? { profiles: result.profiles, check } : null;
  await results.write(`${name}.csv`, planCsv(planned));
  await results.write(`${name}.html`, planHtml({ plan: planned, run: result?.run ?? null, found, reasons }));
}

async function again(folder: string, flags: PlanFlags): Promise<number> {
  const bench = await openBench(folder);
  const { result } = await currentResult(folder, forReading(flags));
  const { plan: first, check, want } = planState(bench, result);
  const pool = mixedPool(result, typeof flags.again === "string" ? poolId(result, flags.again) : null);
  const weighed = recoverMass(bench.book.weighings, result.pools, null, null).pools.find((p) => p.pool === pool.id);
  const run = planAgain(pool, {
    result,
    first,
    check,
    weighedMg: weighed?.massMg ?? null,
    givenMg: typedRequest(flags).loadMg ?? null,
    firstLoadMg: bench.book.loadMg ?? first?.request.loadMg ?? null,
    want: flags.want ?? want,
  });
  await writePlan(folder, run.plan, result, null, run.reasons, "plan-again");
  tell(run.plan, null, flags);
  if (flags.json) return EXIT.read;
  print([
    `pool ${pool.id}, ${massInWords(run.loadMg)} (${run.loadSource})`,
    ...run.reasons,
    ...(flags.quiet ? [] : [`plan: ${join(folder, "results", "plan-again.html")}`]),
  ]);
  return EXIT.read;
}

/** "P3" and "3" name the same pool. */
export function poolId(result: Result, typed: string): string {
  const plain = typed.trim().toLowerCase();
  const pool = result.pools.find((p) => [p.id, `p${p.id}`].some((name) => name.toLowerCase() === plain));
  if (!pool)
    throw new PlatepoolError(
      "pool-unknown",
      `there is no pool "${typed}"; the pools are ${result.pools.map((p) => p.id).join(", ")}`,
    );
  return pool.id;
}

function tell(planned: ColumnPlan, check: PlanCheck | null, flags: PlanFlags): void {
  for (const f of [...planned.findings, ...(check?.findings ?? [])]) say(`${f.message} ${f.remedy}`);
  if (flags.json) process.stdout.write(`${JSON.stringify({ plan: planned, check }, null, 2)}\n`);
  else if (!flags.quiet) print(planLines(planned, check));
}

function planLines(p: ColumnPlan, check: PlanCheck | null): string[] {
  const { request } = p;
  const eluents = p.eluents
    .map((e) => `${Math.round(e.prepareMl)} mL${e.eluent ? ` ${e.eluent}` : ""}`)
    .join(", then ");
  return [
    `column ${p.diameterMm} mm x ${request.bedCm} cm, ${p.sorbentG.toFixed(0)} g ${request.sorbent} (${p.particles}), ${request.drive === "pressure" ? "gas pressure" : "gravity"}`,
    `load ${massInWords(request.loadMg)} of at most ${massInWords(p.loadLimitMg)}; hold-up volume ${p.holdUpMl.toFixed(0)} mL (${p.holdUpSource === "bed" ? "from the bed" : "measured"})`,
    `fractions of ${p.fractionMl} mL, ${p.tubes.length} tubes; mix ${eluents}; about ${Math.max(1, Math.round(p.minutes))} min`,
    ...p.bands.map((b) =>
      b.collected
        ? `${b.component}${b.name ? ` (${b.name})` : ""}: tubes ${b.firstTube}-${b.lastTube}, ${b.retentionMl.toFixed(0)} mL, ${b.columnVolumes.toFixed(1)} column volumes`
        : `${b.component}${b.name ? ` (${b.name})` : ""}: stays on the column`,
    ),
    ...(check ? [`found: ${check.summary}`] : []),
  ];
}
