import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it, vi } from "vitest";
import type { Result } from "../../src/model/index.ts";
import { platepool } from "../support/cli.ts";

// Six photos are drawn and read, on a machine that may be busy.
vi.setConfig({ testTimeout: 300_000 });

let base: string;
beforeAll(() => {
  base = mkdtempSync(join(tmpdir(), "platepool-"));
});
afterAll(() => rmSync(base, { recursive: true, force: true }));

it("draws a run of 24 tubes into a new folder, reads it and says where the report is", async () => {
  const folder = join(base, "demo");
  const { status, out } = await platepool("demo", folder);
  expect(status).toBe(0);
  expect(out).toContain(`report: ${join(folder, "results", "report.html")}`);
  const { photos, plates, fractions }: Result = JSON.parse(readFileSync(join(folder, "results/result.json"), "utf8"));
  expect(photos.map((p) => p.status)).toEqual(Array(6).fill("read"));
  expect(plates.map((p) => p.photos.length)).toEqual([2, 2, 2]);
  expect(fractions).toHaveLength(24);
});

it("leaves a folder alone that holds anything else", async () => {
  const folder = join(base, "mine");
  mkdirSync(folder);
  writeFileSync(join(folder, "notes.txt"), "mine");
  const { status, err } = await platepool("demo", folder);
  expect([status, err.trim().split("\n").length]).toEqual([2, 1]);
  expect(err).toContain("notes.txt");
  expect(readdirSync(folder)).toEqual(["notes.txt"]);
});
