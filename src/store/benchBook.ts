import { promises as fs } from "node:fs";
import { join } from "node:path";
import { z } from "zod";
import { BENCH_SCHEMA, type BenchEntry, type BenchRecord, type Finding, PlatepoolError } from "../model/index.ts";

/** Name of the bench book in a run folder: one JSON object a line, only ever added to. */
export const BENCH_FILE = "bench.jsonl";

const number = z.number();
const text = z.string();
const fill = z.enum(["rows", "serpentine", "columns", "columns-serpentine"]);
const start = z.enum(["top-left", "top-right", "bottom-left", "bottom-right"]);
const byComponent = z.record(text, number);

const request = z.object({
  loadMg: number,
  steps: z.array(z.object({ eluent: text.nullable(), fromMl: number, rf: byComponent })),
  names: z.record(text, text),
  amounts: byComponent,
  want: text.nullable(),
  sorbent: z.enum(["silica", "alumina"]),
  drive: z.enum(["pressure", "gravity"]),
  bedCm: number,
  diameterMm: number.nullable(),
  fractionMl: number.nullable(),
  holdUpMl: number.nullable(),
  forerunMl: number,
  rack: z.object({ rows: number, columns: number, fill, start }).nullable(),
});

const note = z.object({
  from: number,
  to: number,
  volumeMl: number.nullable(),
  eluent: text.nullable(),
  flask: text.nullable(),
  note: text.nullable(),
});

const entry = z.discriminatedUnion("kind", [
  z.object({ kind: z.literal("plan"), request }),
  z.object({
    kind: z.literal("weighing"),
    pool: text,
    flask: text,
    tareG: number,
    grossG: number,
    typed: z.object({ tare: text, gross: text }),
  }),
  z.object({ kind: z.literal("strike"), pool: text, flask: text }),
  z.object({ kind: z.literal("load"), loadMg: number, typed: text }),
  z.object({
    kind: z.literal("product"),
    product: z.object({ component: text.nullable(), molarMass: number, limitingMmol: number, ratio: number }),
  }),
  z.object({ kind: z.literal("tube"), note }),
  z.object({ kind: z.literal("refused"), typed: text, why: text }),
]);

const record = z.object({ format: z.literal(BENCH_SCHEMA), at: text, entry });

export interface ReadBench {
  readonly records: readonly BenchRecord[];
  readonly findings: readonly Finding[];
}

function readLine(line: string, number: number, last: boolean): { record: BenchRecord } | { finding: Finding } {
  const broken = (message: string, remedy: string) => ({
    finding: { code: "bench-line-unreadable", message: `${BENCH_FILE} line ${number}: ${message}`, remedy, where: {} },
  });
  let value: unknown;
  try {
    value = JSON.parse(line);
  } catch {
    return last
      ? broken("breaks off in the middle; it is passed over.", "Type that entry again if it is missing.")
      : broken("is no JSON; it is passed over.", "Mend it by hand, or type that entry again.");
  }
  const format = (value as { format?: unknown } | null)?.format;
  if (typeof format === "string" && format !== BENCH_SCHEMA)
    throw new PlatepoolError(
      "bench-format",
      `${BENCH_FILE} line ${number} is of format ${format}, this program knows ${BENCH_SCHEMA}: use the newer version of platepool`,
    );
  const parsed = record.safeParse(value);
  if (!parsed.success)
    return broken("is no entry of a bench book; it is passed over.", "Mend it by hand, or type that entry again.");
  return { record: { at: parsed.data.at, entry: parsed.data.entry } };
}

/**
 * Reads the bench book of a run folder; none is an empty one. A line that cannot be read is told and passed over.
 * @throws PlatepoolError bench-format, bench-unreadable
 */
export async function readBench(folder: string): Promise<ReadBench> {
  let content: string;
  try {
    content = await fs.readFile(join(folder, BENCH_FILE), "utf8");
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return { records: [], findings: [] };
    throw new PlatepoolError("bench-unreadable", `${BENCH_FILE}: cannot be opened: check that you may read it`);
  }
  const lines = content.split("\n");
  const read = lines.flatMap((line, i) => (line.trim() === "" ? [] : [readLine(line, i + 1, i === lines.length - 1)]));
  return {
    records: read.flatMap((r) => ("record" in r ? [r.record] : [])),
    findings: read.flatMap((r) => ("finding" in r ? [r.finding] : [])),
  };
}

/**
 * Adds entries to the bench book in one write at its end, synced to disk before it returns; what stands in the book is
 * never touched. A line left torn by a crash is closed first.
 * @param at ISO 8601 time of the entries
 * @throws PlatepoolError bench-not-writable
 */
export async function appendBench(folder: string, entries: readonly BenchEntry[], at: string): Promise<void> {
  const lines = entries.map((e) => `${JSON.stringify({ format: BENCH_SCHEMA, at, entry: e })}\n`).join("");
  try {
    const file = await fs.open(join(folder, BENCH_FILE), "a+");
    try {
      const { size } = await file.stat();
      const end = Buffer.alloc(1);
      if (size > 0) await file.read(end, 0, 1, size - 1);
      await file.appendFile(size > 0 && end[0] !== 0x0a ? `\n${lines}` : lines);
      await file.datasync();
    } finally {
      await file.close();
    }
  } catch {
    throw new PlatepoolError(
      "bench-not-writable",
      `${BENCH_FILE}: cannot be written, so nothing was kept: check that you may write in the run folder and that the disk has room`,
    );
  }
}
