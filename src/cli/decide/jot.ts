import { PlatepoolError, type Result, type TubeEntry, type TubeLog } from "../../model/index.ts";
import { parseEntry, type TypedEntry, tubesInWords } from "../../pipeline/index.ts";
import { print } from "../bench/asked.ts";
import { currentResult, openBench, tubesOf } from "../bench/openBench.ts";
import { keepingRefused, typedText } from "../bench/refused.ts";
import type { ReadingFlags } from "../reading/options.ts";
import { EXIT, say } from "../terminal/runProgram.ts";
import { keep } from "./keep.ts";

export type JotFlags = ReadingFlags & Omit<TypedEntry, "tubes">;

/**
 * `platepool jot FOLDER [TUBES]`: writes into the tube log, or tells it. What cannot be is kept in the bench book as
 * refused, so that nothing typed is lost.
 */
export async function jot(folder: string, tubes: string | undefined, flags: JotFlags): Promise<number> {
  const { volume, eluent, flask, note, strike = [] } = flags;
  const said = { volume, eluent, flask, note };
  const typed = typedText({ tubes, ...said, ...(strike.length > 0 && { strike: strike.join(" ") }) });
  if (typed === "") {
    const { result } = await currentResult(folder, flags);
    print(await logLines(folder, result));
    return EXIT.read;
  }
  try {
    return await keep(
      folder,
      flags,
      (_, result) => ({ kind: "log", entry: entryOf({ tubes: tubes ?? "", ...said, strike }, result) }),
      (result) => logLines(folder, result),
    );
  } catch (error) {
    return keepingRefused(folder, typed, () => {
      throw error;
    });
  }
}

function entryOf(typed: TypedEntry, result: Result): TubeEntry {
  const parsed = parseEntry(
    typed,
    result.fractions.map((f) => f.number),
  );
  if ("entry" in parsed) return parsed.entry;
  throw new PlatepoolError("decision-log", parsed.faults.map((f) => `${f.field}: ${f.message}`).join("; "));
}

/** The tube log as the bench goes by it. */
async function logLines(folder: string, result: Result): Promise<string[]> {
  const { value, findings } = tubesOf(await openBench(folder), result);
  for (const f of findings) say(`${f.message} ${f.remedy}`);
  return tubeLogLines(value);
}

/** Tubes of one volume in a line, then what changes at which tube, then the notes. */
export function tubeLogLines({ tubes, totalMl }: TubeLog): string[] {
  const starts = tubes.filter((t, i) => i === 0 || t.volumeMl !== tubes[i - 1].volumeMl);
  const volumes = starts.map(({ number, volumeMl }, i) => {
    const last = (starts[i + 1]?.number ?? tubes.length + 1) - 1;
    return last === number ? `tube ${number}: ${volumeMl} mL` : `tubes ${number}-${last}: ${volumeMl} mL each`;
  });
  const changes = tubes.flatMap((t, i) => [
    ...(t.eluent !== null && t.eluent !== tubes[i - 1]?.eluent ? [`from tube ${t.number} on: eluent ${t.eluent}`] : []),
    ...(t.flask !== null && t.flask !== tubes[i - 1]?.flask ? [`from tube ${t.number} on: into flask ${t.flask}`] : []),
  ]);
  const texts = [...new Set(tubes.flatMap((t) => t.notes))];
  const notes = texts.map((text) => {
    const noted = tubes.filter((t) => t.notes.includes(text)).map((t) => t.number);
    return `${tubesInWords(noted)}: ${text}`;
  });
  const total = `${tubes.length} tubes, ${Number(totalMl.toFixed(2))} mL`;
  return [...volumes, ...changes, ...notes, total];
}
