import { promises as fs } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { Result } from "../../src/model/index.ts";
import { readBench, readJournal } from "../../src/store/index.ts";
import { drawnResult } from "../decisions/sampleRun.ts";
import { inProcess } from "../support/inProcess.ts";

let folder: string;
const RUN = `fractions: { count: 9, volume_ml: 10 }
tubes:
  - { tube: 4, volume_ml: 8, note: "cracked" }
`;

beforeEach(async () => {
  folder = await fs.mkdtemp(join(tmpdir(), "jot-"));
  await fs.writeFile(join(folder, "p1.jpg"), "photo");
  await fs.writeFile(join(folder, "run.yaml"), RUN);
  for (const name of ["p1.jpg", "run.yaml"]) await fs.utimes(join(folder, name), 1, 1);
  await fs.mkdir(join(folder, "results"));
  await fs.writeFile(join(folder, "results", "result.json"), JSON.stringify(drawnResult(".AAAxxBBB")));
});
afterEach(async () => {
  process.exitCode = undefined;
  await fs.rm(folder, { recursive: true, force: true });
});

async function run(name: string, ...args: string[]): Promise<{ out: string[]; err: string[]; status: number }> {
  const { out, err, status } = await inProcess(name, folder, ...args);
  const lines = (text: string) => text.split("\n").slice(0, -1);
  return { out: lines(out), err: lines(err), status };
}
const written = (name: string) => fs.readFile(join(folder, "results", name), "utf8");

describe("the tube log from the command line", () => {
  it("tells what run.yaml says, and writes in its place", async () => {
    expect((await run("jot")).out).toEqual([
      "tubes 1-3: 10 mL each",
      "tube 4: 8 mL",
      "tubes 5-9: 10 mL each",
      "tube 4: cracked",
      "9 tubes, 88 mL",
    ]);
    const { out, err, status } = await run(
      ...["jot", "4-5", "--volume", "12.5 mL", "--eluent", "hexane/EtOAc 3:1", "--flask", "B"],
    );
    expect([err, status]).toEqual([[], 0]);
    expect(out).toEqual([
      "act 1: tube log, tubes 4-5: 12.5 mL, from there on hexane/EtOAc 3:1, from there on into flask B",
      "tubes 1-3: 10 mL each",
      "tubes 4-5: 12.5 mL each",
      "tubes 6-9: 10 mL each",
      "from tube 4 on: eluent hexane/EtOAc 3:1",
      "from tube 4 on: into flask B",
      "tube 4: cracked",
      "9 tubes, 95 mL",
    ]);
    expect(await fs.readFile(join(folder, "run.yaml"), "utf8")).toBe(RUN);
  });

  it("tells a note of several tubes once", async () => {
    const { out } = await run("jot", "7-9", "--note", "slow");
    expect(out.slice(-3)).toEqual(["tube 4: cracked", "tubes 7-9: slow", "9 tubes, 88 mL"]);
  });

  it("is used by sheet, weigh, writeup and the result at once", async () => {
    await run("jot", "4", "--volume", "40", "--note", "flask <b>rinsed</b>");
    const result = JSON.parse(await written("result.json")) as Result;
    expect(result.pools.map((p) => p.volume_ml)).toEqual([10, 60, 20, 30]);
    expect((await run("sheet")).out).toContainEqual(expect.stringMatching(/^2: 60 mL, /));
    expect(await written("sheet.html")).toContain("flask &lt;b&gt;rinsed&lt;/b&gt;");
    await run("writeup");
    expect(await written("tubes.csv")).toMatch(/^4,40,/m);
    expect(await written("writeup.md")).toContain("60 mL");
    expect((await run("weigh")).status).toBe(0);
  });

  it("strikes what was said, undoes, and tells the history", async () => {
    await run("jot", "4", "--strike", "volume", "note");
    expect((await run("jot")).out).toEqual(["tubes 1-9: 10 mL each", "9 tubes, 90 mL"]);
    await run("undo");
    expect((await run("jot")).out.at(-1)).toBe("9 tubes, 88 mL");
    expect((await run("history")).out[0]).toMatch(/\(tube log, tube 4: the usual volume, no note\)$/);
    expect((await readJournal(folder)).lines.map((l) => l.act.kind)).toEqual(["log", "undo"]);
  });

  it.each([
    ["a negative volume", ["4", "--volume=-3"], /volume: -3 mL is less than nothing/],
    ["words for a number", ["4", "--volume", "ten"], /volume: "ten" is no volume/],
    ["a tube that is not there", ["12", "--volume", "8"], /tubes: there is no tube 12; the run has tubes 1-9/],
    ["no tube at all", ["--volume", "8"], /tubes: which tube\?/],
    ["nothing said of a tube", ["4"], /write a volume, an eluent, a flask or a note/],
    ["both at once", ["4", "--note", "x", "--strike", "note"], /note: is written and struck at once/],
  ])("%s: one line, status 2; it is kept as refused and does not count", async (_, args, words) => {
    const { out, err, status } = await run("jot", ...args);
    expect([out, status]).toEqual([[], 2]);
    expect(err).toHaveLength(1);
    expect(err[0]).toMatch(words);
    const { records } = await readBench(folder);
    expect(records.map((r) => r.entry.kind)).toEqual(["refused"]);
    expect((await readJournal(folder)).lines).toEqual([]);
  });

  it("what is written of a tube that goes later waits for it, and no sheet fails over it", async () => {
    await run("jot", "9", "--volume", "25");
    await fs.writeFile(join(folder, "results", "result.json"), JSON.stringify(drawnResult(".AAAxx")));
    await fs.writeFile(join(folder, "run.yaml"), "fractions: { count: 6, volume_ml: 10 }\n");
    await fs.utimes(join(folder, "run.yaml"), 1, 1);
    const { out, err, status } = await run("jot");
    expect([out, err, status]).toEqual([["tubes 1-6: 10 mL each", "6 tubes, 60 mL"], [], 0]);
    expect((await run("sheet")).status).toBe(0);
  });
});
