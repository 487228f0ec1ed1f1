import type { Result } from "../../model/index.ts";
import type { RunReading } from "../../pipeline/index.ts";
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

/** The pooling map in words, for the terminal. */
export function poolLines({ pools, fractions, photos, plates, decisions }: Result): string[] {
  const read = photos.filter((p) => p.status === "read").length;
  const lines = [`${count(read, "photo")}, ${count(plates.length, "plate")}, ${count(fractions.length, "tube")}`];
  for (const pool of pools) {
    const held = pool.components.length > 0 ? ` ${pool.components.join(" + ")}` : "";
    lines.push(
      `${pool.id}: ${pool.kind}${held}, ${pool.fractions.length === 1 ? "tube" : "tubes"} ${ranges(pool.fractions)}, confidence ${pool.confidence.toFixed(2)}`,
    );
  }
  if (decisions?.pools) {
    const yes = decisions.pools.filter((p) => p.accepted).length;
    lines.push(`suggested above; divided by hand into ${count(decisions.pools.length, "pool")}, ${yes} accepted`);
  }
  return lines;
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
