import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { annotatedNames, openResults } from "../../src/store/index.ts";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "run-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));
const inResults = (name: string) => join(folder, "results", name);

describe("results", () => {
  it("are written whole, and nothing temporary stays", async () => {
    const results = await openResults(folder);
    await results.write("result.json", "{}\n");
    await results.write("p1.png", new Uint8Array([1, 2, 3]));
    expect(readdirSync(join(folder, "results")).sort()).toEqual(["p1.png", "result.json"]);
    expect([...readFileSync(inResults("p1.png"))]).toEqual([1, 2, 3]);
  });

  it("what a killed process left is cleared when it is old, and left alone when another may be writing it", async () => {
    mkdirSync(join(folder, "results"));
    for (const name of ["result.json.123456", "pools.csv.99", "mine.json", "keep.txt.12"])
      writeFileSync(inResults(name), "x");
    for (const name of ["result.json.123456", "mine.json", "keep.txt.12"]) utimesSync(inResults(name), 1, 1);
    await openResults(folder);
    expect(readdirSync(join(folder, "results")).sort()).toEqual(["keep.txt.12", "mine.json", "pools.csv.99"]);
  });

  it("annotated pictures of photos that have gone go too; the user's own files stay", async () => {
    mkdirSync(join(folder, "results"));
    const earlier = {
      schema: "platepool.result/1",
      photos: [{ file: "p1.jpg" }, { file: "p2.jpg" }, { file: "../x.jpg" }],
    };
    writeFileSync(inResults("result.json"), JSON.stringify(earlier));
    for (const name of ["p1.png", "p2.png", "sketch.png"]) writeFileSync(inResults(name), "x");
    const results = await openResults(folder);
    await results.forgetOthers(["p1.jpg"]);
    expect(readdirSync(join(folder, "results")).sort()).toEqual(["p1.png", "result.json", "sketch.png"]);
  });

  it("a file in the folder's place is said, not replaced", async () => {
    writeFileSync(join(folder, "results"), "mine");
    await expect(openResults(folder)).rejects.toMatchObject({ code: "results-not-a-folder" });
    expect(readFileSync(join(folder, "results"), "utf8")).toBe("mine");
  });

  it("decisions are not touched", async () => {
    writeFileSync(join(folder, "decisions.jsonl"), "{}\n");
    const results = await openResults(folder);
    await results.write("result.json", "{}\n");
    await results.forgetOthers([]);
    expect(existsSync(join(folder, "decisions.jsonl"))).toBe(true);
    expect(readFileSync(join(folder, "decisions.jsonl"), "utf8")).toBe("{}\n");
  });
});

it("annotated pictures have names of their own, even where photos differ by their ending alone", () => {
  expect([...annotatedNames(["p1.jpg", "p2.jpg", "P2.png", "p3.png"]).values()]).toEqual([
    "p1.png",
    "p2.jpg.png",
    "P2.png.png",
    "p3.png",
  ]);
});
