import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { openDemoFolder } from "../../src/store/index.ts";

let base: string;
let folder: string;
beforeEach(() => {
  base = mkdtempSync(join(tmpdir(), "demo-"));
  folder = join(base, "demo");
});
afterEach(() => rmSync(base, { recursive: true, force: true }));

async function make() {
  const demo = await openDemoFolder(folder);
  await demo.write("p1.jpg", "photo");
  await demo.write("run.yaml", "run: demo\n");
}

describe("a demo's folder", () => {
  it("is made, and made again, with results and decisions left alone", async () => {
    await make();
    mkdirSync(join(folder, "results"));
    writeFileSync(join(folder, "decisions.jsonl"), "{}\n");
    await make();
    expect(readFileSync(join(folder, "run.yaml"), "utf8")).toBe("run: demo\n");
    expect(readFileSync(join(folder, "decisions.jsonl"), "utf8")).toBe("{}\n");
  });

  it.each([
    ["anything else", () => writeFileSync(join(folder, "notes.txt"), "mine")],
    ["a demo file that was changed", () => writeFileSync(join(folder, "run.yaml"), "run: mine\n")],
    ["a file that a list claims with another checksum", () => writeFileSync(join(folder, "p1.jpg"), "mine")],
  ])("that holds %s is refused and stays as it is", async (_, spoil) => {
    await make();
    spoil();
    await expect(openDemoFolder(folder)).rejects.toMatchObject({ code: "demo-folder-in-use" });
  });

  it("with files but no list of ours is refused", async () => {
    mkdirSync(folder);
    writeFileSync(join(folder, "p1.jpg"), "photo");
    await expect(openDemoFolder(folder)).rejects.toMatchObject({ code: "demo-folder-in-use" });
  });

  it("may be an empty one; a file in its place is refused", async () => {
    mkdirSync(folder);
    await make();
    await expect(openDemoFolder(join(folder, "p1.jpg"))).rejects.toMatchObject({ code: "demo-folder-in-use" });
  });
});
