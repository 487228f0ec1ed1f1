import { copyFileSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { ended, platepool, startCli } from "../support/cli.ts";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "watched-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

/** Starts a command; what it has printed so far can be asked for. */
function start(...args: string[]) {
  const child = startCli(args);
  const said = { out: "", err: "" };
  child.stdout!.on("data", (text) => {
    said.out += text;
  });
  child.stderr!.on("data", (text) => {
    said.err += text;
  });
  return { child, said, end: ended(child) };
}

it("watch reads what arrives, tells a bad photo, renews the results, and ends cleanly on Ctrl-C", async () => {
  const { child, said, end } = start("watch", folder, "--workers", "1");
  await expect.poll(() => said.err, { timeout: 20_000 }).toContain("watching for photos");
  writeFileSync(join(folder, "bad.jpg"), "no picture");
  await expect.poll(() => said.err, { timeout: 20_000 }).toContain("bad.jpg");
  copyFileSync("fixtures/runs/normal-30/plate-01a.jpg", join(folder, "plate-1.jpg"));
  await expect.poll(() => said.out, { timeout: 40_000 }).toContain("1 plate");
  child.kill("SIGINT");
  expect((await end).status).toBe(0);
  const result = JSON.parse(readFileSync(join(folder, "results", "result.json"), "utf8"));
  expect(result.photos.map((p: { file: string; status: string }) => `${p.file} ${p.status}`)).toEqual([
    "bad.jpg rejected",
    "plate-1.jpg read",
  ]);
  expect(existsSync(join(folder, "results", "plate-1.png"))).toBe(true);
});

describe("review", () => {
  it("prints a link that only this computer can follow, and ends cleanly on Ctrl-C", async () => {
    const { child, said, end } = start("review", folder, "--no-open", "--quiet");
    await expect
      .poll(() => said.out, { timeout: 20_000 })
      .toMatch(/^review: http:\/\/127\.0\.0\.1:\d+\/\?key=[\w-]{32}\n$/);
    const link = said.out.slice("review: ".length).trim();
    expect((await fetch(link)).status).toBe(200);
    expect((await fetch(link.replace(/key=.*/, ""))).status).toBe(403);
    // A page that stays open does not keep the program from ending.
    const cookie = (await fetch(link)).headers.get("set-cookie")!.split(";")[0];
    const events = await fetch(new URL("/events", link), { headers: { cookie } });
    expect(events.headers.get("content-type")).toContain("text/event-stream");
    child.kill("SIGINT");
    expect((await end).status).toBe(0);
    await events.body?.cancel().catch(() => undefined);
  });

  it("a wrong folder, run file or port is told in one line", async () => {
    const gone = await platepool("review", join(folder, "nowhere"), "--no-open");
    expect(gone).toMatchObject({
      status: 2,
      out: "",
      err: expect.stringMatching(/^nowhere: there is no such folder[^\n]*\n$/),
    });
    expect(await platepool("review", folder, "--port", "70000")).toMatchObject({ status: 2 });
    writeFileSync(join(folder, "run.yaml"), "plates: 3\n");
    expect((await platepool("review", folder, "--no-open")).err).toMatch(/^run\.yaml line 1: /);
  });
});

it("watch goes on beside decisions of a newer format: told in one line, and left as they are", async () => {
  const foreign = '{"format":"platepool.decisions/9"}\n{"id":1}\n';
  writeFileSync(join(folder, "decisions.jsonl"), foreign);
  const { child, said, end } = start("watch", folder, "--workers", "1");
  await expect.poll(() => said.err, { timeout: 40_000 }).toContain("watching for photos");
  const told = said.err.split("\n").filter((line) => line.includes("decisions.jsonl"));
  expect(told).toEqual([expect.stringMatching(/^decisions\.jsonl line 1: .*platepool\.decisions\/9/)]);
  child.kill("SIGINT");
  expect((await end).status).toBe(0);
  expect(readFileSync(join(folder, "decisions.jsonl"), "utf8")).toBe(foreign);
});
