import { promises as fs } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { Act } from "../../src/model/index.ts";
import { digestOf, JOURNAL_FILE, keepAct, parseAct, readJournal, TORN_FILE } from "../../src/store/index.ts";

const AT = "2026-02-03T10:00:00.000Z";
const moved = (y: number): Act => ({
  kind: "mend",
  mending: { what: "origin", plate: { photos: ["p1.jpg"], place: 0 }, y },
});

let folder: string;
beforeEach(async () => {
  folder = await fs.mkdtemp(join(tmpdir(), "journal-"));
});
afterEach(() => fs.rm(folder, { recursive: true, force: true }));
const path = (name = JOURNAL_FILE) => join(folder, name);
const keep = (y: number) => keepAct(folder, AT, () => ({ act: moved(y), on: null }));
const heights = async () =>
  (await readJournal(folder)).lines.map(({ act }) =>
    act.kind === "mend" && act.mending.what === "origin" ? act.mending.y : null,
  );

describe("the journal of decisions", () => {
  it("is empty where there is none, and reading makes none", async () => {
    expect(await readJournal(folder)).toMatchObject({ lines: [], findings: [] });
    expect(await fs.readdir(folder)).toEqual([]);
  });

  it("names its format in the first line and keeps an act a line, numbered", async () => {
    const first = await keepAct(folder, AT, (lines) => ({ act: moved(0.9), on: digestOf(String(lines.length)) }));
    const second = await keep(0.8);
    expect([first.line.id, second.line.id]).toEqual([1, 2]);
    const text = (await fs.readFile(path(), "utf8")).split("\n");
    expect(text[0]).toBe('{"format":"platepool.decisions/1"}');
    expect(text).toHaveLength(4);
    expect(JSON.parse(text[1])).toEqual({ id: 1, at: AT, on: digestOf("0"), act: moved(0.9) });
    expect((await readJournal(folder)).lines).toEqual(second.lines);
    expect(await fs.readdir(folder)).toEqual([JOURNAL_FILE]);
  });

  it("only ever grows", async () => {
    await keep(0.9);
    const before = await fs.readFile(path(), "utf8");
    await keep(0.8);
    expect((await fs.readFile(path(), "utf8")).startsWith(before)).toBe(true);
  });

  it("keeps nothing where the draft refuses, and leaves no lock", async () => {
    await expect(
      keepAct(folder, AT, () => {
        throw new Error("no");
      }),
    ).rejects.toThrow("no");
    expect(await fs.readdir(folder)).toEqual([]);
  });

  it("many writers at once lose nothing, and each sees all before it", async () => {
    const seen = await Promise.all(
      Array.from({ length: 25 }, (_, i) =>
        keepAct(folder, AT, (lines) => ({ act: moved(i / 100), on: String(lines.length) })),
      ),
    );
    expect(seen.map((k) => k.line.id).sort((a, b) => a - b)).toEqual(Array.from({ length: 25 }, (_, i) => i + 1));
    for (const { line } of seen) expect(line.on).toBe(String(line.id - 1));
    expect(new Set(await heights()).size).toBe(25);
  });

  it("any interleaving of two writers loses no act and keeps the order of each", async () => {
    const pauses = fc.array(fc.nat(6), { maxLength: 6 });
    await fc.assert(
      fc.asyncProperty(pauses, pauses, async (a, b) => {
        await fs.rm(path(), { force: true });
        const writer = async (name: number, waits: readonly number[]) => {
          for (const [i, wait] of waits.entries()) {
            await pause(wait);
            await keep(name + i / 100);
          }
        };
        await Promise.all([writer(1, a), writer(2, b)]);
        const kept = await heights();
        expect(kept.filter((y) => y! < 2)).toEqual(a.map((_, i) => 1 + i / 100));
        expect(kept.filter((y) => y! >= 2)).toEqual(b.map((_, i) => 2 + i / 100));
      }),
      { numRuns: 15 },
    );
  });

  it("a line torn by a crash is told, set aside with the next act, and costs that line alone", async () => {
    await keep(0.9);
    await keep(0.8);
    const whole = await fs.readFile(path(), "utf8");
    await fs.writeFile(path(), whole.slice(0, -30));
    const torn = await readJournal(folder);
    expect(torn.lines).toHaveLength(1);
    expect(torn.findings[0].message).toMatch(/line 3: breaks off/);
    const next = await keep(0.7);
    expect(next.findings.map((f) => f.code)).toEqual(["decision-line-torn"]);
    expect(await heights()).toEqual([0.9, 0.7]);
    expect(await fs.readFile(path(TORN_FILE), "utf8")).toBe(`${whole.split("\n")[2].slice(0, -29)}\n`);
    expect((await readJournal(folder)).findings).toEqual([]);
  });

  it("torn at any byte: all whole lines stay, and the next act is kept", async () => {
    await keep(0.9);
    await keep(0.8);
    const whole = await fs.readFile(path());
    for (let cut = 0; cut < whole.length; cut += 7) {
      await fs.writeFile(path(), whole.subarray(0, cut));
      const lines = whole.subarray(0, cut).toString().split("\n").length - 2;
      await keep(0.5);
      const kept = await heights();
      expect(kept.at(-1)).toBe(0.5);
      expect(kept.length).toBeGreaterThanOrEqual(Math.max(0, lines) + 1);
    }
  });

  it("a last line without its line end, as an editor leaves it, counts", async () => {
    await keep(0.9);
    await fs.writeFile(path(), (await fs.readFile(path(), "utf8")).trimEnd());
    expect(await heights()).toEqual([0.9]);
    await keep(0.8);
    expect(await heights()).toEqual([0.9, 0.8]);
  });

  it("passes over lines that are no acts and says which", async () => {
    await keep(0.9);
    await fs.appendFile(path(), 'nonsense\n{"id":2,"at":"x","on":null,"act":{"kind":"dance"}}\n');
    await fs.appendFile(path(), (await fs.readFile(path(), "utf8")).split("\n")[1].concat("\n"));
    const { lines, findings } = await readJournal(folder);
    expect(lines).toHaveLength(1);
    expect(findings.map((f) => f.message)).toEqual([
      "decisions.jsonl line 3: is no act; it is passed over.",
      "decisions.jsonl line 4: is no act; it is passed over.",
      "decisions.jsonl line 5: act 1 stands there out of order; it is passed over.",
    ]);
  });

  it.each([
    ['{"format":"platepool.decisions/7"}\n', /line 1: is of format platepool\.decisions\/7.*platepool\.decisions\/1/],
    ['{"format":"platepool.decisions/7"}', /line 1: is of format platepool\.decisions\/7/],
    ['{"id":1}\n', /line 1: does not say/],
    ['[{"pool":"1","tubes":"2-4"}]', /line 1: does not say/],
    ["\u0000\u0001\n", /line 1: does not say/],
  ])("a file of another format (%j) is told, holds nothing and is never written to", async (text, words) => {
    await fs.writeFile(path(), text);
    const { lines, findings, unusable } = await readJournal(folder);
    expect(lines).toEqual([]);
    expect(findings).toHaveLength(1);
    expect(findings[0].message).toMatch(words);
    expect(findings[0].remedy).toContain("nothing can be decided");
    expect(unusable?.message).toMatch(words);
    await expect(keep(0.9)).rejects.toThrow(words);
    expect(await fs.readFile(path(), "utf8")).toBe(text);
    expect((await fs.readdir(folder)).filter((name) => name.includes("torn"))).toEqual([]);
  });

  it("a first line that a crash broke off is ours, and the next act begins anew", async () => {
    await fs.writeFile(path(), '{"format":"platepo');
    expect((await readJournal(folder)).unusable).toBeNull();
    await keep(0.9);
    expect(await heights()).toEqual([0.9]);
  });

  it("says so where it cannot read or write", async () => {
    await fs.mkdir(path());
    await expect(keep(0.9)).rejects.toThrow(/cannot be read/);
    expect((await readJournal(folder)).findings[0].message).toMatch(/cannot be read/);
    await expect(keepAct(path("none"), AT, () => ({ act: moved(1), on: null }))).rejects.toThrow(/nothing was kept/);
  });

  it("takes away the lock of a dead process, but waits for a living one", async () => {
    const lock = path(".decisions.lock");
    const { hostname } = await import("node:os");
    await fs.writeFile(lock, JSON.stringify({ pid: 2 ** 22 + 1, host: hostname(), token: "dead" }));
    await keep(0.9);
    await fs.writeFile(lock, JSON.stringify({ pid: process.pid, host: hostname(), token: "living" }));
    const waiting = keep(0.8);
    await new Promise((done) => setTimeout(done, 80));
    expect(await heights()).toEqual([0.9]);
    await fs.rm(lock);
    await waiting;
    expect(await heights()).toEqual([0.9, 0.8]);
  });

  it("what comes from outside is an act or nothing", () => {
    expect(parseAct({ kind: "undo", of: 3 })).toEqual({ kind: "undo", of: 3 });
    expect(parseAct(moved(0.5))).toEqual(moved(0.5));
    for (const wrong of [null, "undo", { kind: "undo" }, { kind: "undo", of: -1 }, { kind: "mend", mending: {} }])
      expect(parseAct(wrong)).toBeNull();
    expect(parseAct({ kind: "undo", of: 3, more: "x" })).toEqual({ kind: "undo", of: 3 });
  });
});
