import { promises as fs } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";

import type { Result } from "../../src/model/index.ts";
import { JOURNAL_FILE, readJournal } from "../../src/store/index.ts";
import { drawnResult } from "../decisions/sampleRun.ts";
import { ended, startCli } from "../support/cli.ts";
import { inProcess } from "../support/inProcess.ts";

let folder: string;
beforeEach(async () => {
  folder = await fs.mkdtemp(join(tmpdir(), "decide-cli-"));
  await leave(drawnResult(".AAAxxBBB"));
});
afterEach(async () => {
  process.exitCode = undefined;
  await fs.rm(folder, { recursive: true, force: true });
});

const stored = () => join(folder, "results", "result.json");

/** Leaves a result in the folder as if its photo had just been read; ten mL a tube. */
async function leave(result: Result): Promise<void> {
  await fs.writeFile(join(folder, "p1.jpg"), "photo");
  await fs.writeFile(join(folder, "run.yaml"), "fractions: { count: 9, volume_ml: 10 }\n");
  for (const name of ["p1.jpg", "run.yaml"]) await fs.utimes(join(folder, name), 1, 1);
  await fs.mkdir(join(folder, "results"), { recursive: true });
  await fs.writeFile(stored(), JSON.stringify(result));
}

/** Runs a command on the folder in this process. */
async function run(name: string, ...args: string[]): Promise<{ out: string[]; err: string[]; status: number }> {
  const { out, err, status } = await inProcess(name, folder, ...args);
  const lines = (text: string) => text.split("\n").slice(0, -1);
  return { out: lines(out), err: lines(err), status };
}

const START = [
  "1: empty, tube 1, 10 mL, open",
  "2: clean A, tubes 2-4, purity 95 % (90-99), 30 mL, open",
  "3: mixed A + B, tubes 5-6, purity 95 % (90-99), 20 mL, open",
  "4: clean B, tubes 7-9, purity 95 % (90-99), 30 mL, open",
];

describe("deciding from the command line", () => {
  it("accepts all in one command, and says what that is", async () => {
    const { out, err, status } = await run("accept");
    expect(status).toBe(0);
    expect(err).toEqual([]);
    expect(out[0]).toBe("act 1: accepted all 4 pools");
    expect(out.slice(1, 5)).toEqual(START.map((l) => l.replace("open", "accepted")));
    expect(out[5]).toBe("One spot is never proof of purity.");
  });

  it("accepts those named", async () => {
    const { out } = await run("accept", "2", "P4");
    expect(out.filter((l) => l.endsWith("accepted")).map((l) => l[0])).toEqual(["2", "4"]);
  });

  it("opens one of several accepted pools again; the others stay accepted", async () => {
    await run("accept");
    const { out } = await run("reopen", "P3");
    expect(out[0]).toBe("act 2: opened again: pool 3 = tubes 5-6");
    expect(out.slice(1, 5).map((l) => [l[0], l.endsWith("accepted")])).toEqual([
      ["1", true],
      ["2", true],
      ["3", false],
      ["4", true],
    ]);
    const again = await run("reopen", "3", "4");
    expect([again.status, again.err]).toEqual([2, ["pool 3 is not accepted, so there is nothing to open again"]]);
    expect((await run("undo")).out.filter((l) => l.endsWith("accepted"))).toHaveLength(4);
  });

  it("moves, splits, merges and names; each an act of its own", async () => {
    await run("move", "5", "--to", "2");
    await run("move", "8-9", "--apart");
    await run("split", "2", "4");
    await run("merge", "2", "1");
    const { out } = await run("name", "4", "chalcone");
    expect(out.slice(1).map((l) => l.replace(/, purity.*/, ""))).toEqual([
      "2: clean A, tubes 1-3",
      "6: mixed A + B, tubes 4-5",
      "3: mixed A + B, tube 6",
      "chalcone: clean B, tube 7",
      "5: clean B, tubes 8-9",
      "One spot is never proof of purity.",
    ]);
    expect((await readJournal(folder)).lines.map((l) => l.id)).toEqual([1, 2, 3, 4, 5]);
  });

  it("takes back, brings back, returns, and tells the history; nothing is erased", async () => {
    await run("accept");
    await run("split", "2", "4");
    expect((await run("undo")).out[1]).toMatch(/^1: /);
    expect((await run("redo")).out.some((l) => l.startsWith("5: clean A, tube 4"))).toBe(true);
    const back = await run("return", "0");
    expect(back.out).toEqual([
      "act 5: back to before anything was decided",
      ...START,
      "One spot is never proof of purity.",
    ]);
    const { out } = await run("history");
    expect(out.map((l) => l.replace(/\d{4}-\d\d-\d\d \d\d:\d\d/, "TIME"))).toEqual([
      "1  TIME  (accepted all 4 pools)",
      "2  TIME  (split: pools 2 = tubes 2-3; 5 = tube 4)",
      "3  TIME  undo act 2",
      "4  TIME  redo act 2",
      "5  TIME  back to before anything was decided",
    ]);
  });

  it("an empty history says so and makes no file", async () => {
    expect((await run("history")).out).toEqual(["nothing was decided yet"]);
    expect(await fs.readdir(folder)).not.toContain(JOURNAL_FILE);
  });

  it("leaves what was decided in the result, whose time stays that of the reading", async () => {
    const { mtimeMs } = await fs.stat(stored());
    await run("accept");
    const result = JSON.parse(await fs.readFile(stored(), "utf8")) as Result;
    expect(result.decisions?.pools?.every((p) => p.accepted)).toBe(true);
    expect(result.pools).toEqual(drawnResult(".AAAxxBBB").pools);
    expect(Math.abs((await fs.stat(stored())).mtimeMs - mtimeMs)).toBeLessThan(1.5);
  });

  it("is quiet when asked", async () => {
    expect(await run("accept", "-q")).toEqual({ out: [], err: [], status: 0 });
  });

  it.each([
    ["an unknown pool", ["accept", "9"], /no pool "9"; there are pools 1, 2, 3 and 4/],
    ["an unknown tube", ["move", "12", "--to", "2"], /no tube 12/],
    ["a move to nowhere", ["move", "5"], /where to\? Give --to POOL/],
    ["tubes that are none", ["move", "5-x", "--to", "2"], /"5-x" is no tube/],
    ["a cut at the wrong tube", ["split", "2", "7"], /pool 2 holds tubes 2-4/],
    ["a merge of one", ["merge", "2"], /two pools or more/],
    ["a name that is taken", ["name", "2", "3"], /there is a pool 3 already/],
    ["nothing to undo", ["undo"], /nothing to undo/],
    ["a return to nowhere", ["return", "7"], /no earlier state after act 7/],
    ["an act that is none", ["return", "first"], /"first" is no act/],
  ])("%s: one line, status 2, nothing kept", async (_, [name, ...args], words) => {
    const { out, err, status } = await run(name, ...args);
    expect([out, status]).toEqual([[], 2]);
    expect(err).toHaveLength(1);
    expect(err[0]).toMatch(words);
    expect(await fs.readdir(folder)).not.toContain(JOURNAL_FILE);
  });

  it("a journal of another format stops it, with file and line, and stays as it is", async () => {
    const text = '{"format":"platepool.decisions/9"}\n{"pools":[]}\n';
    await fs.writeFile(join(folder, JOURNAL_FILE), text);
    // What goes by decided pools stops too: a sheet of pools that were decided otherwise would be wrong at the bench.
    for (const name of ["accept", "undo", "history", "sheet"]) {
      const { out, err, status } = await run(name);
      expect([name, status, out]).toEqual([name, 2, []]);
      expect(err).toHaveLength(1);
      expect(err[0]).toMatch(/^decisions\.jsonl line 1: is of format platepool\.decisions\/9/);
    }
    expect(await fs.readFile(join(folder, JOURNAL_FILE), "utf8")).toBe(text);
  });

  it("a journal of another format does not stop a reading: it is told in one line, and stays as it is", async () => {
    const text = '{"format":"platepool.decisions/9"}\n{"pools":[]}\n';
    await fs.writeFile(join(folder, JOURNAL_FILE), text);
    await fs.copyFile("fixtures/runs/easy-6/plate-01a.jpg", join(folder, "p1.jpg"));
    const { out, err, status } = await run("read", "--workers", "1");
    expect(status).toBe(0);
    expect(out.at(-1)).toMatch(/^report: /);
    expect(err.filter((l) => l.includes("decisions.jsonl"))).toEqual([
      expect.stringMatching(
        /^decisions\.jsonl line 1: is of format platepool\.decisions\/9.*nothing can be decided\.$/,
      ),
    ]);
    expect(await fs.readFile(join(folder, JOURNAL_FILE), "utf8")).toBe(text);
  }, 60_000);

  it("the bench sheet and the write-up go by what was decided", async () => {
    await run("name", "4", "chalcone");
    await run("move", "5", "--to", "2");
    await run("sheet");
    const sheet = await fs.readFile(join(folder, "results", "sheet.html"), "utf8");
    expect(sheet).toContain("chalcone");
    const { out } = await run("writeup");
    expect(out[0]).toMatch(/2–5/);
    expect(await fs.readFile(join(folder, "results", "writeup.md"), "utf8")).toContain("chalcone");
  });

  it("two processes at once: both are kept, each judged by the newest state", async () => {
    const both = await Promise.all([
      ended(startCli(["name", folder, "2", "ketone"])),
      ended(startCli(["name", folder, "4", "chalcone"])),
    ]);
    expect(both.map((b) => b.status)).toEqual([0, 0]);
    const { lines } = await readJournal(folder);
    expect(lines.map((l) => l.id)).toEqual([1, 2]);
    const { out } = await run("accept");
    expect(out.slice(1, 5).map((l) => l.split(":")[0])).toEqual(["1", "ketone", "3", "chalcone"]);
  });
});
