import { join } from "node:path";
import type { Result } from "../../model/index.ts";
import {
  planCsv,
  recoveryCsv,
  spotsCsv,
  tubesCsv,
  type WriteUpInput,
  writeUpHtml,
  writeUpMarkdown,
  writeUpText,
} from "../../report/planning/index.ts";
import { openResults } from "../../store/index.ts";
import type { ReadingFlags } from "../reading/options.ts";
import { EXIT, say } from "../terminal/runProgram.ts";
import { version } from "../version.ts";
import { elnArchive, fileName } from "./archive.ts";
import { print } from "./asked.ts";
import { type Bench, currentResult, openBench } from "./openBench.ts";
import { planState } from "./planState.ts";
import { basisOf, recoveryOf } from "./weigh.ts";

/** `platepool writeup FOLDER`: paragraph, tables and archive; returns the exit status. */
export async function writeup(folder: string, flags: ReadingFlags): Promise<number> {
  const bench = await openBench(folder);
  const { result, readAt } = await currentResult(folder, flags);
  const { input, findings } = gather(bench, result);
  for (const f of findings) say(`${f.message} ${f.remedy}`);
  const results = await openResults(folder);
  await results.write("writeup.md", writeUpMarkdown(input));
  await results.write("writeup.html", writeUpHtml(input));
  await results.write("spots.csv", spotsCsv(result));
  if (input.log) await results.write("tubes.csv", tubesCsv(input.log));
  if (input.plan) await results.write("plan.csv", planCsv(input.plan));
  if (input.recovery) await results.write("recovery.csv", recoveryCsv(input.recovery, bench.book.weighings));
  const text = writeUpText(input);
  const name = fileName(result.run);
  const archive = await elnArchive({
    folder,
    title: text.title,
    name,
    description: text.paragraphs.join(" "),
    photos: bench.photos,
    at: new Date(),
    readAt,
  });
  await results.write(`${name}.eln`, archive);
  if (!flags.quiet)
    print([
      text.paragraphs.join(" "),
      `write-up: ${join(folder, "results", "writeup.html")}`,
      `archive: ${join(folder, "results", `${name}.eln`)}`,
    ]);
  return EXIT.read;
}

function gather(bench: Bench, result: Result) {
  const state = planState(bench, result);
  const { plan, check, log, names } = state;
  const basis = basisOf(bench, state);
  const recovery = recoveryOf(bench, result, basis);
  const input: WriteUpInput = {
    result,
    log: log?.value ?? null,
    plan,
    check,
    recovery,
    basis,
    names,
    version: version(),
  };
  return { input, findings: [...(log?.findings ?? []), ...recovery.findings] };
}
