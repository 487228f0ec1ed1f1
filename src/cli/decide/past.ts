import { PlatepoolError } from "../../model/index.ts";
import { describeAct, type Replayed, replay } from "../../pipeline/index.ts";
import { openRunFolder, readJournal } from "../../store/index.ts";
import { print } from "../bench/asked.ts";
import type { ReadingFlags } from "../reading/options.ts";
import { EXIT, say } from "../terminal/runProgram.ts";
import { keep } from "./keep.ts";

/** `platepool undo FOLDER`, `platepool redo FOLDER` */
export function undoOrRedo(folder: string, kind: "undo" | "redo", flags: ReadingFlags): Promise<number> {
  return keep(folder, flags, (now) => {
    const of = now[kind];
    if (of === null) throw new PlatepoolError("decision-nothing", `there is nothing to ${kind}`);
    return { kind, of };
  });
}

/** `platepool return FOLDER ACT` */
export function returnTo(folder: string, act: string, flags: ReadingFlags): Promise<number> {
  if (!/^\d+$/.test(act))
    throw new PlatepoolError("decision-nothing", `"${act}" is no act: give its number as the history shows it, or 0`);
  return keep(folder, flags, () => ({ kind: "return", to: Number(act) }));
}

/** `platepool history FOLDER`: reads no photo and changes nothing. */
export async function history(folder: string): Promise<number> {
  await openRunFolder(folder);
  const { lines, findings, unusable } = await readJournal(folder);
  if (unusable) throw unusable;
  const replayed = replay(lines);
  for (const f of [...findings, ...replayed.findings]) say(`${f.message} ${f.remedy}`);
  print(lines.length === 0 ? ["nothing was decided yet"] : historyLines(replayed));
  return EXIT.read;
}

/** A line an act; what does not stand any more is in brackets. */
export function historyLines({ history }: Replayed): string[] {
  const width = String(history.at(-1)?.line.id ?? 0).length;
  return history.map((entry) => {
    const { id, at, act } = entry.line;
    const words = describeAct(entry);
    const content = act.kind === "divide" || act.kind === "mend" || act.kind === "log";
    const time = at.slice(0, 16).replace("T", " ");
    return `${String(id).padStart(width)}  ${time}  ${content && !entry.stands ? `(${words})` : words}`;
  });
}
