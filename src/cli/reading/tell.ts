import type { Result, ResultPool } from "../../model/index.ts";
import type { RunReading } from "../../pipeline/index.ts";
import { divisionOf } from "../../report/index.ts";
import { debug, say } from "../terminal/runProgram.ts";

/** Tells on standard error what was rejected, what is in doubt, and what is wrong with the photos: one line each. */
export function tellDoubts({ result, crashes }: RunReading): void {
  for (const line of doubtLines(result)) say(line);
  for (const crash of crashes) debug(crash);
}

export function doubtLines({ photos, warnings, decisions }: Result): string[] {
  const rejected = photos.filter((p) => p.status === "rejected").map((p) => about(p.file, `not read: ${p.reason}`));
  const doubts = warnings.map((w) => about(w.photo, w.message));
  const advice = photos.flatMap((p) =>
    p.status === "read" && p.quality?.advice ? [about(p.file, p.quality.advice)] : [],
  );
  const against = decisions?.contradictions.map((c) => about(c.photo, `${c.message} ${c.remedy}`)) ?? [];
  return [...new Set([...rejected, ...doubts, ...advice, ...against])];
}

/** Names the file once, unless the words do so themselves. */
function about(file: string | null, words: string): string {
  return file === null || words.includes(file) ? words : `${file}: ${words}`;
}

/** The pools that count in words, for the terminal: divided by hand where they were, then what is suggested instead. */
export function poolLines(result: Result): string[] {
  const { fractions, photos, plates } = result;
  const read = photos.filter((p) => p.status === "read").length;
  const head = `${count(read, "photo")}, ${count(plates.length, "plate")}, ${count(fractions.length, "tube")}`;
  const division = divisionOf(result);
  if (division === null) return [head, ...result.pools.map(poolLine)];
  const { pools, otherwise, undecided } = division;
  const yes = pools.filter((p) => p.accepted).length;
  return [
    head,
    `divided by hand into ${count(pools.length, "pool")}, ${yes} accepted`,
    ...pools.map((p) => `${poolLine(p)}, ${p.accepted ? "accepted" : "open"}`),
    ...(undecided.length > 0 ? [`not decided, and as suggested: ${tubes(undecided)}`] : []),
    ...otherwise.map((p) => `suggested instead: ${poolLine(p)}`),
  ];
}

function poolLine({ id, kind, components, fractions, confidence }: Omit<ResultPool, "reason">): string {
  const held = components.length > 0 ? ` ${components.join(" + ")}` : "";
  return `${id}: ${kind}${held}, ${tubes(fractions)}, confidence ${confidence.toFixed(2)}`;
}

function tubes(numbers: readonly number[]): string {
  return `${numbers.length === 1 ? "tube" : "tubes"} ${ranges(numbers)}`;
}

function count(n: number, noun: string): string {
  return `${n} ${noun}${n === 1 ? "" : "s"}`;
}

function ranges(numbers: readonly number[]): string {
  const runs: [number, number][] = [];
  for (const n of [...numbers].sort((a, b) => a - b)) {
    const last = runs.at(-1);
    if (last !== undefined && last[1] === n - 1) last[1] = n;
    else runs.push([n, n]);
  }
  return runs.map(([a, b]) => (a === b ? `${a}` : `${a}-${b}`)).join(", ");
}
