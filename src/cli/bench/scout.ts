import { join } from "node:path";
import type { EluentRanking } from "../../model/index.ts";
import { rankEluents } from "../../planning/index.ts";
import { eluentsCsv, scoutHtml } from "../../report/planning/index.ts";
import { openResults } from "../../store/index.ts";
import type { ReadingFlags } from "../reading/options.ts";
import { EXIT, say } from "../terminal/runProgram.ts";
import { print } from "./asked.ts";
import { currentResult, openBench } from "./openBench.ts";
import { needTrials } from "./scoutTrials.ts";

/** `platepool scout FOLDER`: ranks the eluents of scouting plates; returns the exit status. */
export async function scout(folder: string, flags: ReadingFlags & { readonly json?: boolean }): Promise<number> {
  const bench = await openBench(folder);
  const { result } = await currentResult(folder, { ...flags, want: undefined }, false);
  const ranking = rankEluents(needTrials(result, bench.run), flags.want ?? bench.runBench?.scoutWant ?? null);
  for (const f of ranking.findings) say(`${f.message} ${f.remedy}`);
  if (flags.json) {
    process.stdout.write(`${JSON.stringify(ranking, null, 2)}\n`);
    return EXIT.read;
  }
  const results = await openResults(folder);
  await results.write("eluents.csv", eluentsCsv(ranking));
  await results.write("eluents.html", scoutHtml(ranking, result.run));
  if (!flags.quiet) print([...rankingLines(ranking), `eluents: ${join(folder, "results", "eluents.html")}`]);
  return EXIT.read;
}

function rankingLines(ranking: EluentRanking): string[] {
  return [
    ...ranking.trials.map((t) => `${t.rank}. ${t.eluent.text}${t.workable ? "" : " (not workable)"}: ${t.reason}`),
    ...ranking.next.map((n) => `next: ${n.reason}`),
    ...(ranking.step ? [`step gradient: ${ranking.step.reason}`] : []),
  ];
}
