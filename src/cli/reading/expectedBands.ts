import { type ColumnPlan, type ExpectedBand, PlatepoolError, type RunFile } from "../../model/index.ts";
import { foldBook, planColumn } from "../../planning/index.ts";
import { readBench } from "../../store/index.ts";
import { earlierRequest, hasPlan } from "../bench/plannedColumn.ts";

/**
 * Where the plan of a folder, or the column that its run file tells of, expects the components, for the reading to lean on;
 * nothing where there is no plan or it cannot be made (which is told when the plan is compared).
 */
export async function expectedBands(
  folder: string,
  run: RunFile | null,
): Promise<{ readonly expected?: readonly ExpectedBand[] }> {
  try {
    const { records } = await readBench(folder);
    const sources = { run, runBench: run?.bench ?? null, book: foldBook(records) };
    return hasPlan(sources) ? { expected: bandsOf(planColumn(earlierRequest(sources))) } : {};
  } catch (error) {
    if (!(error instanceof PlatepoolError)) throw error;
    return {};
  }
}

/** The planned bands in tubes; what stays on the column is left out. */
export function bandsOf(plan: ColumnPlan): ExpectedBand[] {
  const { rf } = plan.request.steps[0];
  return plan.bands
    .filter((band) => band.collected)
    .map((band) => ({ rf: rf[band.component], tube: band.peakTube, sd: band.sdMl / plan.fractionMl }));
}
