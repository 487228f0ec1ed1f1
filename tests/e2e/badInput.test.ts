import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import type { Result } from "../../src/model/index.ts";
import { type Ended, platepool } from "../support/cli.ts";
import { drawRun } from "../support/renderedRun.ts";

// Each test starts the program, on a machine that may be busy.
vi.setConfig({ testTimeout: 300_000, hookTimeout: 300_000 });

let base: string;
let run: string;
let photo: Buffer;
let file: string;

beforeAll(async () => {
  base = mkdtempSync(join(tmpdir(), "platepool-"));
  run = join(base, "run");
  const truth = await drawRun(run, "easy", 12, { plates: 1, longSide: 900 });
  file = truth.photos[0].file;
  photo = readFileSync(join(run, file));
});
afterAll(() => rmSync(base, { recursive: true, force: true }));

let copies = 0;
function folderWith(files: Readonly<Record<string, string | Uint8Array>>): string {
  const folder = join(base, `bad-${++copies}`);
  mkdirSync(join(folder, "plates"), { recursive: true });
  for (const [name, content] of Object.entries(files)) writeFileSync(join(folder, name), content);
  return folder;
}

/** No path of this machine, no stack, no colour codes, no repeated line. */
function expectPlainWords({ err }: Ended): string[] {
  const lines = err.split("\n").filter((l) => l !== "");
  for (const line of lines) {
    expect(line).not.toContain(base);
    expect(line).not.toMatch(/^\s+at |node_modules|Error:|undefined|\[object/);
    expect(line).not.toContain("\u001b");
  }
  expect(new Set(lines).size).toBe(lines.length);
  return lines;
}

describe("photos", () => {
  it("each bad one is told in one line that names it; the good one is read", async () => {
    const bad = {
      "a-empty.jpg": new Uint8Array(0),
      "b-cut.jpg": photo.subarray(0, photo.length >> 1),
      "c-zeroed.jpg": Buffer.concat([photo.subarray(0, photo.length >> 1), Buffer.alloc(photo.length >> 1)]),
      "d-text.jpg": "Rf 0.4, a bit of tailing\n",
      "e-drawing.png": '<svg xmlns="http://www.w3.org/2000/svg" width="10" height="10"/>',
      "f-cut.heic": readFileSync("fixtures/photos/heic/upright.heic").subarray(0, 700),
      "g-no-plate.png": await sharp({ create: { width: 600, height: 400, channels: 3, background: "#777" } })
        .png()
        .toBuffer(),
      "h-pixel.png": await sharp({ create: { width: 1, height: 1, channels: 3, background: "#777" } })
        .png()
        .toBuffer(),
    };
    const folder = folderWith({ ...bad, "z-good.jpg": photo, "plates/z-good.jpg": photo });
    const ended = await platepool("read", folder);
    const lines = expectPlainWords(ended);
    expect(ended.status).toBe(0);
    for (const name of Object.keys(bad)) {
      const told = lines.filter((l) => l.startsWith(`${name}: not read: `));
      expect(told, name).toHaveLength(1);
    }
    expect(lines.filter((l) => l.includes("stands both in the folder and in plates"))).toHaveLength(1);
    const { photos, plates }: Result = JSON.parse(readFileSync(join(folder, "results/result.json"), "utf8"));
    expect(photos.map((p) => p.status)).toEqual([...Object.keys(bad).map(() => "rejected"), "read"]);
    expect(photos.filter((p) => p.status === "rejected").every((p) => p.reason)).toBe(true);
    expect(plates.map((p) => p.photos)).toEqual([["z-good.jpg"]]);
  });

  it("a good picture under a wrong ending is read", async () => {
    const folder = folderWith({ "odd.tif": photo });
    const { status, out } = await platepool("read", folder, "--json");
    expect(status).toBe(0);
    expect(JSON.parse(out).photos[0].status).toBe("read");
  });

  it("names with markup, spaces and line breaks stay names", async () => {
    const name = 'p<b>1 "x"\n&.jpg';
    const ended = await platepool("read", folderWith({ [name]: photo, "a\nb.jpg": "" }), "--workers", "1");
    expect(ended.status).toBe(0);
    const lines = expectPlainWords(ended);
    expect(lines.filter((l) => l.startsWith("a\\x0ab.jpg: not read: the file is empty"))).toHaveLength(1);
  });

  it("none at all, or none that can be read: status 1, and --json still prints the object", async () => {
    const none = await platepool("read", folderWith({ "notes.txt": "x" }), "--json");
    expect([none.status, JSON.parse(none.out).photos]).toEqual([1, []]);
    expect(expectPlainWords(none)).toHaveLength(1);
    const bad = await platepool("read", folderWith({ "a.jpg": "" }), "--json");
    expect([bad.status, JSON.parse(bad.out).photos[0].status]).toEqual([1, "rejected"]);
  });
});

describe("run.yaml", () => {
  it.each([
    ["no YAML", "plates: [1, 2\nrun: }{\n", /^run\.yaml line \d: not valid YAML/],
    ["an unknown key", "run: a\nplats: []\n", /^run\.yaml line 2: unknown key "plats": did you mean "plates"\?$/],
    ["the wrong shape", "plates:\n  - p1.jpg\n", /^run\.yaml line 2: plates 1 must be a plate/],
    [
      "an unknown light",
      "plates:\n  - photos:\n      - { file: a.jpg, light: uv }\n",
      /^run\.yaml line 3: .*uv254, uv365, white/,
    ],
    [
      "a range backwards",
      "plates:\n  - photos: [a.jpg]\n    lanes: [7-1]\n",
      /^run\.yaml line 3: the range 7-1 runs backwards/,
    ],
    ["a photo twice on a plate", "plates:\n  - photos: [a.jpg, a.jpg]\n", /^run\.yaml line 2: a\.jpg is listed twice/],
  ])("%s: status 2, the line, and nothing is written", async (_, yaml, words) => {
    const folder = folderWith({ "a.jpg": photo, "run.yaml": yaml });
    const ended = await platepool("read", folder, "--json");
    expect(ended.status).toBe(2);
    expect(ended.out).toBe("");
    const lines = expectPlainWords(ended);
    expect(lines.some((l) => words.test(l))).toBe(true);
  });

  it("a missing photo, an unlisted one and a tube twice cost no more than themselves", async () => {
    const lanes = /lanes: \[(.*)\]/.exec(readFileSync(join(run, "run.yaml"), "utf8"))![1];
    const yaml = `plates:\n  - photos: [${file}, gone.jpg]\n    lanes: [${lanes}]\n  - photos: [never.jpg]\n    lanes: [1]\n`;
    const folder = folderWith({ [file]: photo, "extra.jpg": photo, "run.yaml": yaml });
    const ended = await platepool("read", folder, "--json");
    expect(ended.status).toBe(0);
    const lines = expectPlainWords(ended);
    expect(lines.some((l) => l.startsWith("run.yaml line 2: gone.jpg is not in the folder."))).toBe(true);
    expect(lines.some((l) => l.startsWith("run.yaml line 4: never.jpg is not in the folder."))).toBe(true);
    expect(lines.some((l) => l.startsWith("run.yaml line 5: tube 1 stands also on line 3"))).toBe(true);
    expect(lines.some((l) => l.startsWith("extra.jpg: not read: run.yaml lists the plates but not this photo"))).toBe(
      true,
    );
    const { plates } = JSON.parse(ended.out) as Result;
    expect(plates.map((p) => [p.id, p.photos])).toEqual([["P1", [file]]]);
  });

  it("more lanes than the plate has: a warning with the line", async () => {
    const yaml = `plates:\n  - photos: [${file}]\n    lanes: [1-30]\n`;
    const ended = await platepool("read", folderWith({ [file]: photo, "run.yaml": yaml }), "--json");
    expect(ended.status).toBe(0);
    expect(expectPlainWords(ended).some((l) => /run\.yaml line 3: 30 lanes are named/.test(l))).toBe(true);
  });
});

describe("the call", () => {
  it.each([
    ["no folder named", ["read"]],
    ["a folder that is not there", ["read", "/nowhere/at-all"]],
    ["a file for a folder", ["read", "package.json"]],
    ["an unknown option", ["read", ".", "--colour"]],
    ["an unknown command", ["reed", "."]],
    ["an unknown policy", ["read", ".", "--policy", "greed"]],
    ["workers in words", ["read", ".", "--workers", "many"]],
  ])("%s: status 2 and one line", async (_, args) => {
    const ended = await platepool(...args);
    expect(ended.status).toBe(2);
    expect(expectPlainWords(ended)).toHaveLength(1);
    expect(ended.out).toBe("");
  });

  it("--help and --version: status 0, on standard output", async () => {
    for (const flag of ["--help", "--version"]) {
      const { status, out, err } = await platepool(flag);
      expect([status, err, out.length > 3]).toEqual([0, "", true]);
    }
  });
});
