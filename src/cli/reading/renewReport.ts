import type { Result } from "../../model/index.ts";
import { picturesIn } from "../../report/index.ts";
import { openResults } from "../../store/index.ts";
import { say } from "../terminal/runProgram.ts";
import { writeReport } from "./writeResults.ts";

/**
 * Brings report and table of a folder up to date with what was decided since the photos were read. No photo is read: the
 * report holds its own pictures. Where it cannot be renewed, that is told.
 */
export async function renewReport(folder: string, result: Result): Promise<void> {
  const results = await openResults(folder);
  const html = await results.read("report.html");
  const pictures = html === null ? null : picturesIn(html, result);
  await writeReport(folder, results, result, pictures);
  if (html !== null && pictures === null)
    say("report.html does not show these decisions yet: platepool read writes it anew");
}
