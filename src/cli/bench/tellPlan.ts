import { PlatepoolError, type Result } from "../../model/index.ts";
import { planCsv, planHtml } from "../../report/planning/index.ts";
import { openResults } from "../../store/index.ts";
import { say } from "../terminal/runProgram.ts";
import { openBench } from "./openBench.ts";
import { planState } from "./planState.ts";

/**
 * After a reading: holds the plan of the folder, where it has one, against what the plates show; tells what is off and
 * renews the page of the plan. The reading itself stays as it is, also where the plan cannot be: that is told.
 */
export async function tellPlan(folder: string, result: Result): Promise<void> {
  try {
    await compare(folder, result);
  } catch (error) {
    if (!(error instanceof PlatepoolError)) throw error;
    say(`The plan was not compared: ${error.message}`);
  }
}

async function compare(folder: string, result: Result): Promise<void> {
  const bench = await openBench(folder);
  const { plan, check } = planState(bench, result);
  if (!plan || !check) return;
  for (const f of check.findings) say(`Against the plan: ${f.message} ${f.remedy}`);
  const results = await openResults(folder);
  await results.write("plan.csv", planCsv(plan));
  await results.write(
    "plan.html",
    planHtml({ plan, run: result.run, found: { profiles: result.profiles, check }, reasons: [] }),
  );
}
