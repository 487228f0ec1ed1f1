import type { Finding, JournalLine } from "../../model/index.ts";
import { type RunInput, replay } from "../../pipeline/index.ts";
import type { PhotoFile } from "../../store/index.ts";

interface Opened {
  readonly run: RunInput["run"];
  readonly findings: readonly Finding[];
}

interface Journal {
  readonly lines: readonly JournalLine[];
  readonly findings: readonly Finding[];
}

/**
 * What a reading is made of, as the folder has it.
 * @param waiting true where photos are still arriving: that the run file names them is no doubt yet
 */
export function inputOf(
  { run, findings }: Opened,
  journal: Journal,
  photos: readonly PhotoFile[],
  waiting: boolean,
): RunInput {
  const { decisions, findings: unfit } = replay(journal.lines);
  const all = [...findings, ...journal.findings, ...unfit];
  return {
    files: photos.map((p) => p.file),
    run,
    decisions,
    findings: waiting ? all.filter((f) => f.code !== "photo-missing") : all,
  };
}
