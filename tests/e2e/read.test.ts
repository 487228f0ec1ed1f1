import { cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import type { Result } from "../../src/model/index.ts";
import { ended, platepool, startCli } from "../support/cli.ts";
import { drawRun } from "../support/renderedRun.ts";

// Each test starts the program, on a machine that may be busy.
vi.setConfig({ testTimeout: 300_000, hookTimeout: 300_000 });

let base: string;
let run: string;

beforeAll(async () => {
  base = mkdtempSync(join(tmpdir(), "platepool-"));
  run = join(base, "run");
  await drawRun(run, "easy", 11, { plates: 2, longSide: 1100 });
});
afterAll(() => rmSync(base, { recursive: true, force: true }));

/** A copy of the run to spoil. */
function copy(name: string): string {
  const folder = join(base, name);
  cpSync(run, folder, { recursive: true, filter: (from) => !from.includes("results") });
  return folder;
}

const resultOf = (folder: string): Result => JSON.parse(readFileSync(join(folder, "results/result.json"), "utf8"));

describe("reading a run", () => {
  it("writes the results, says where the report is, and is quiet about progress when piped", async () => {
    writeFileSync(join(run, "notes.jsonl"), '{"mine":true}\n');
    const { status, out, err } = await platepool("read", run);
    expect(status).toBe(0);
    expect(out).toMatch(/report: .*report\.html\n$/);
    expect(err).not.toMatch(/\r|photos read/);
    const { photos, plates, fractions, schema } = resultOf(run);
    expect(schema).toBe("platepool.result/1");
    expect(photos.map((p) => p.status)).toEqual(["read", "read"]);
    expect(plates.map((p) => p.id)).toEqual(["P1", "P2"]);
    expect(fractions.length).toBeGreaterThan(8);
    const annotated = photos.map((p) => p.file.replace(".jpg", ".png"));
    expect(readdirSync(join(run, "results")).sort()).toEqual(
      [...annotated, "pools.csv", "report.html", "result.json"].sort(),
    );
    for (const name of annotated) {
      const { format, width } = await sharp(join(run, "results", name)).metadata();
      expect([format, width! > 300]).toEqual(["png", true]);
    }
    expect(readFileSync(join(run, "notes.jsonl"), "utf8")).toBe('{"mine":true}\n');
  });

  it("--json prints what would have been written, byte for byte, with any number of workers, and writes nothing", async () => {
    const folder = copy("json");
    const one = await platepool("read", folder, "--json", "--workers", "1");
    const two = await platepool("read", folder, "--json", "--workers", "2");
    expect(existsSync(join(folder, "results"))).toBe(false);
    expect(two.out).toBe(one.out);
    expect(one.out).toBe(readFileSync(join(run, "results/result.json"), "utf8"));
    expect(one.status).toBe(0);
  });

  it("--quiet says nothing but doubts", async () => {
    expect((await platepool("read", run, "--quiet")).out).toBe("");
  });

  it("a reader that closes the pipe early ends it quietly", async () => {
    const child = startCli(["read", run, "--json", "--workers", "1"]);
    const end = ended(child);
    child.stdout!.once("data", () => child.stdout!.destroy());
    const { status, err } = await end;
    expect(status).toBe(0);
    expect(err).not.toMatch(/EPIPE|Error|at /);
  });
});

describe("an earlier result", () => {
  it.each([600, 1500, 2500])("is whole or replaced whole when the program is killed after %i ms", async (after) => {
    const folder = copy(`killed-${after}`);
    cpSync(join(run, "results"), join(folder, "results"), { recursive: true });
    const earlier = readFileSync(join(folder, "results/result.json"), "utf8").replace(
      '"run":',
      '"earlier": 1,\n  "run":',
    );
    writeFileSync(join(folder, "results/result.json"), earlier);
    const child = startCli(["read", folder, "--workers", "1"]);
    const end = ended(child);
    setTimeout(() => child.kill("SIGKILL"), after);
    await end;
    const now = readFileSync(join(folder, "results/result.json"), "utf8");
    expect([earlier, readFileSync(join(run, "results/result.json"), "utf8")]).toContain(now);
  });

  it("stays when nothing can be read any more", async () => {
    const folder = copy("spoiled");
    cpSync(join(run, "results"), join(folder, "results"), { recursive: true });
    for (const file of readdirSync(folder).filter((f) => f.endsWith(".jpg"))) writeFileSync(join(folder, file), "");
    const { status, err } = await platepool("read", folder);
    expect(status).toBe(1);
    expect(err).toContain("nothing could be read");
    expect(resultOf(folder)).toEqual(resultOf(run));
  });

  it("takes each photo as run.yaml says that it stands, and all as --up says", async () => {
    const upright = JSON.parse((await platepool("read", run, "--json")).out) as Result;
    const folder = copy("turned");
    const [first, second] = upright.photos.map((p) => p.file);
    for (const [file, angle] of [
      [first, 270],
      [second, 180],
    ] as const)
      writeFileSync(join(folder, file), await sharp(join(run, file)).rotate(angle).jpeg({ quality: 98 }).toBuffer());
    const yaml = readFileSync(join(run, "run.yaml"), "utf8");
    const told = yaml.replace(`{ file: ${second},`, `{ file: ${second}, up: down,`);
    expect(told).not.toBe(yaml);
    writeFileSync(join(folder, "run.yaml"), `up: left\n${told}`);
    const rfs = ({ plates }: Result) => plates.map((p) => p.lanes.map((l) => l.spots.map((s) => s.rf)));
    const turned = JSON.parse((await platepool("read", folder, "--json")).out) as Result;
    const [was, now] = [rfs(upright), rfs(turned)];
    expect(now.map((lanes) => lanes.length)).toEqual(was.map((lanes) => lanes.length));
    const strongest = (lists: number[][][]) => lists.flat().map((spots) => Math.max(0, ...spots));
    const far = strongest(now).filter((rf, i) => Math.abs(rf - strongest(was)[i]) > 0.03);
    expect(far.length).toBeLessThan(strongest(was).length / 5);
    const all = JSON.parse((await platepool("read", folder, "--json", "--up", "left")).out) as Result;
    expect(rfs(all)[0]).toEqual(now[0]);
    expect(rfs(all)[1]).not.toEqual(now[1]);
    expect(all.settings).toEqual({ policy: "balance", want: null, up: "left" });
  });

  it("an interrupt leaves no half file", async () => {
    const folder = copy("interrupted");
    const child = startCli(["read", folder, "--workers", "1"]);
    const end = ended(child);
    setTimeout(() => child.kill("SIGINT"), 1500);
    const { err } = await end;
    expect(err).not.toMatch(/Error|at /);
    const left = existsSync(join(folder, "results")) ? readdirSync(join(folder, "results")) : [];
    expect(left.filter((f) => /\.\d+$/.test(f))).toEqual([]);
  });
});
