import { promises as fs } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import type { Result } from "../../src/model/index.ts";
import { reportHtml } from "../../src/report/index.ts";
import { drawnResult } from "../decisions/sampleRun.ts";
import { undrawnInput } from "../report/support/samplePictures.ts";
import { inProcess } from "../support/inProcess.ts";

// Some of these read a photo, on a machine that may be busy.
vi.setConfig({ testTimeout: 300_000 });

let folder: string;
beforeEach(async () => {
  folder = await fs.mkdtemp(join(tmpdir(), "decided-report-"));
  await fs.mkdir(join(folder, "results"));
});
afterEach(async () => {
  process.exitCode = undefined;
  await fs.rm(folder, { recursive: true, force: true });
});

const result = drawnResult(".AAAxxBBB");
const page = (name: string) => fs.readFile(join(folder, "results", name), "utf8");
const leave = (name: string, text: string) => fs.writeFile(join(folder, "results", name), text);
const age = (name: string) => fs.utimes(join(folder, name), 1, 1);

describe("report and table after a decision", () => {
  beforeEach(async () => {
    await fs.writeFile(join(folder, "p1.jpg"), "no photo: reading it would fail");
    await age("p1.jpg");
    await leave("report.html", reportHtml(undrawnInput(result)));
    await leave("result.json", JSON.stringify(result));
  });

  it("show it at once, without a photo being read", async () => {
    const { err, status } = await inProcess("move", folder, "5", "--to", "2");
    expect([status, err]).toEqual([0, ""]);
    expect(await page("report.html")).toContain("Divided by hand: 4 pools, none accepted; tube 5 stands elsewhere");
    expect(await page("pools.csv")).toMatch(/^5,2,3,by hand,mixed,/m);
    await inProcess("accept", folder, "-q");
    expect(await page("report.html")).toContain("4 pools, all accepted; tube 5 stands elsewhere");
    await inProcess("return", folder, "0", "-q");
    expect(await page("report.html")).not.toContain("Divided by hand");
    expect(await page("pools.csv")).toMatch(/^5,3,3,suggested,mixed,/m);
    expect((await page("report.html")).match(/<image /g)).toHaveLength(2);
  });

  it("a report that cannot be renewed is left, and that is told", async () => {
    await leave("report.html", "<p>of another version</p>");
    const { err, status } = await inProcess("accept", folder, "-q");
    expect([status, err]).toEqual([
      0,
      "report.html does not show these decisions yet: platepool read writes it anew\n",
    ]);
    expect(await page("report.html")).toBe("<p>of another version</p>");
    expect(await page("pools.csv")).toMatch(/^5,3,3,accepted,/m);
  });
});

describe("settings of a reading", () => {
  const settings = async () => (JSON.parse(await page("result.json")) as Result).settings;

  it("what is asked for otherwise is read anew; what is not asked for stays as it was", async () => {
    await fs.copyFile("fixtures/runs/easy-6/plate-01a.jpg", join(folder, "p1.jpg"));
    await age("p1.jpg");
    await inProcess("read", folder, "-q", "--policy", "purity", "--workers", "1");
    const first = await page("result.json");
    expect(await settings()).toEqual({ policy: "purity", want: null });
    await inProcess("sheet", folder, "-q");
    expect(await page("result.json")).toBe(first);
    await inProcess("sheet", folder, "-q", "--policy", "recovery", "--workers", "1");
    expect(await settings()).toEqual({ policy: "recovery", want: null });
    expect(await page("report.html")).toMatch(/Recovery first <span class="tag">used here/);
    // A photo that is newer is read under the settings that were chosen.
    const later = new Date(Date.now() + 5000);
    await fs.utimes(join(folder, "p1.jpg"), later, later);
    await inProcess("accept", folder, "-q", "--workers", "1");
    expect(await settings()).toEqual({ policy: "recovery", want: null });
  });

  it("the component that a plan is for is no setting of the reading", async () => {
    await fs.writeFile(join(folder, "p1.jpg"), "no photo: reading it would fail");
    await age("p1.jpg");
    await leave("result.json", JSON.stringify(result));
    const plan = ["--rf", "K=0.55,P=0.37", "--load", "100mg", "--want", "P"];
    const { status, err } = await inProcess("plan", folder, "-q", ...plan);
    expect([status, err]).toEqual([0, expect.not.stringContaining("p1.jpg")]);
    expect(await page("result.json")).toBe(JSON.stringify(result));
  });
});
