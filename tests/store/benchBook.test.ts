import { promises as fs } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { BenchEntry } from "../../src/model/index.ts";
import { foldBook } from "../../src/planning/index.ts";
import { appendBench, BENCH_FILE, readBench } from "../../src/store/index.ts";
import { chalconeRequest } from "../planning/support/run.ts";

const AT = "2024-03-01T10:00:00.000Z";
const weighing = (pool: string, grossG: number, flask = "1"): BenchEntry => ({
  kind: "weighing",
  pool,
  flask,
  tareG: 50,
  grossG,
  typed: { tare: "50 g", gross: `${grossG} g` },
});

let folder: string;
beforeEach(async () => {
  folder = await fs.mkdtemp(join(tmpdir(), "bench-"));
});
afterEach(() => fs.rm(folder, { recursive: true, force: true }));
const path = () => join(folder, BENCH_FILE);

describe("the bench book", () => {
  it("is empty where there is none, and gives back what was written, in order", async () => {
    expect(await readBench(folder)).toEqual({ records: [], findings: [] });
    const entries: BenchEntry[] = [
      { kind: "plan", request: chalconeRequest({ rack: { rows: 4, columns: 6, fill: "rows", start: "top-left" } }) },
      weighing("P1", 50.1),
      { kind: "tube", note: { from: 3, to: 3, volumeMl: 8, eluent: null, flask: null, note: "=1+1" } },
      { kind: "refused", typed: "P1 tare 60 g gross 50 g", why: "tare above gross" },
    ];
    await appendBench(folder, entries.slice(0, 1), AT);
    await appendBench(folder, entries.slice(1), AT);
    const { records, findings } = await readBench(folder);
    expect(records.map((r) => r.entry)).toEqual(entries);
    expect(findings).toEqual([]);
  });

  it("only ever grows: what stood in it stands there byte for byte", async () => {
    await appendBench(folder, [weighing("P1", 50.1)], AT);
    const before = await fs.readFile(path(), "utf8");
    await appendBench(folder, [weighing("P1", 50.2)], AT);
    expect((await fs.readFile(path(), "utf8")).startsWith(before)).toBe(true);
  });

  it("a line torn by a crash costs that line alone", async () => {
    await appendBench(folder, [weighing("P1", 50.1), weighing("P2", 50.2)], AT);
    const whole = await fs.readFile(path(), "utf8");
    await fs.writeFile(path(), whole.slice(0, -25));
    const torn = await readBench(folder);
    expect(torn.records).toHaveLength(1);
    expect(torn.findings[0].message).toMatch(/line 2: breaks off/);
    await appendBench(folder, [weighing("P3", 50.3)], AT);
    const after = await readBench(folder);
    expect(after.records.map((r) => r.entry)).toEqual([weighing("P1", 50.1), weighing("P3", 50.3)]);
  });

  it("passes over lines that are no entries, and stops at another format, naming both", async () => {
    await fs.writeFile(path(), `{"format":"platepool.bench/1","at":"x","entry":{"kind":"dance"}}\nnonsense\n`);
    expect((await readBench(folder)).findings).toHaveLength(2);
    await fs.writeFile(path(), `{"format":"platepool.bench/9"}\n`);
    await expect(readBench(folder)).rejects.toThrow(/bench\/9.*bench\/1/);
  });

  it("several writers at once lose nothing", async () => {
    await Promise.all(Array.from({ length: 20 }, (_, i) => appendBench(folder, [weighing(`P${i}`, 51)], AT)));
    const { records, findings } = await readBench(folder);
    expect(findings).toEqual([]);
    expect(new Set(records.map((r) => (r.entry as { pool: string }).pool)).size).toBe(20);
  });

  it("says so where it cannot write", async () => {
    await fs.mkdir(path());
    await expect(appendBench(folder, [weighing("P1", 51)], AT)).rejects.toThrow(/nothing was kept/);
  });
});

describe("what the entries come to", () => {
  const book = (...entries: BenchEntry[]) => foldBook(entries.map((entry) => ({ at: AT, entry })));

  it("the last word on each flask counts; a struck one is gone; a refused one never counted", () => {
    const folded = book(
      weighing("P1", 50.1),
      weighing("P1", 50.4, "2"),
      weighing("P1", 50.2),
      weighing("X", 50.9),
      { kind: "strike", pool: "X", flask: "1" },
      { kind: "refused", typed: "P2", why: "no" },
      { kind: "load", loadMg: 250, typed: "250 mg" },
      { kind: "load", loadMg: 260, typed: "260 mg" },
    );
    expect(folded.weighings.map((w) => [w.pool, w.flask, w.grossG])).toEqual([
      ["P1", "1", 50.2],
      ["P1", "2", 50.4],
    ]);
    expect(folded.loadMg).toBe(260);
    expect(folded.plan).toBeNull();
  });
});
