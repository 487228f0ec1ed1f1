import { appendFileSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, it } from "vitest";
import { type Arrivals, openArrivals } from "../../src/cli/watching/arrivals.ts";

let folder: string;
let arrivals: Arrivals;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "arrivals-"));
});
afterEach(() => {
  arrivals.close();
  rmSync(folder, { recursive: true });
});

/** A photo is whole when it ends in "end". */
function bench() {
  const path = join(folder, "p1.jpg");
  const checks: string[] = [];
  const check = async (photo: { file: string; path: string }) => {
    const text = await import("node:fs").then((fs) => fs.readFileSync(photo.path, "utf8"));
    checks.push(text);
    return text.endsWith("end") ? null : text.startsWith("no picture") ? "photo-not-a-picture" : "photo-truncated";
  };
  const changes: number[] = [];
  arrivals = openArrivals({ check }, () => changes.push(arrivals?.paths.size ?? 0));
  return { path, checks, changes };
}

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

it("a photo that grows is not looked at; one that rests and is whole has arrived", async () => {
  const { path, checks, changes } = bench();
  writeFileSync(path, "begin");
  arrivals.wrote(path);
  expect(arrivals.paths.has(path)).toBe(true);
  for (let i = 0; i < 6; i++) {
    await pause(200);
    appendFileSync(path, ` ${i}`);
  }
  expect(checks).toEqual([]);
  appendFileSync(path, " end");
  await expect.poll(() => arrivals.paths.size, { timeout: 5000 }).toBe(0);
  expect(checks).toEqual(["begin 0 1 2 3 4 5 end"]);
  expect(changes).toEqual([0, 0].map((_, i) => (i === 0 ? 1 : 0)));
});

it("one that rests half written is waited for", async () => {
  const { path, checks } = bench();
  writeFileSync(path, "half");
  arrivals.wrote(path);
  await expect.poll(() => checks.length, { timeout: 5000 }).toBe(1);
  await pause(300);
  expect(arrivals.paths.size).toBe(1);
  appendFileSync(path, " end");
  arrivals.wrote(path);
  await expect.poll(() => arrivals.paths.size, { timeout: 5000 }).toBe(0);
});

it("what is no picture at all has arrived too, to be told at once; so has what is gone again", async () => {
  const { path } = bench();
  writeFileSync(path, "no picture");
  arrivals.wrote(path);
  arrivals.wrote(join(folder, "gone.jpg"));
  await expect.poll(() => arrivals.paths.size, { timeout: 5000 }).toBe(0);
});
