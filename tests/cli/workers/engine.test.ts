import { execFileSync } from "node:child_process";
import { expect, it } from "vitest";

/** How often all of the heap is swept while a photo is read over and over. */
const SWEPT = `
  import { readFileSync } from "node:fs";
  import { constants, PerformanceObserver } from "node:perf_hooks";
  import { readGroup } from "./src/pipeline/index.ts";
  const bytes = readFileSync(PHOTO);
  const group = { photos: [{ file: PHOTO, light: null, stain: null }], plates: null };
  let swept = 0;
  new PerformanceObserver((list) => {
    for (const { detail } of list.getEntries()) if (detail.kind !== constants.NODE_PERFORMANCE_GC_MINOR) swept++;
  }).observe({ entryTypes: ["gc"] });
  for (let i = 0; i < 8; i++) await readGroup(group, async () => bytes, { pictures: false });
  await new Promise((resolve) => setTimeout(resolve, 50));
  console.log(swept);
`;

function sweeps(before: string): number {
  const script = before + SWEPT.replaceAll("PHOTO", JSON.stringify("fixtures/runs/normal-30/plate-01a.jpg"));
  return Number(execFileSync("npx", ["tsx", "--input-type=module", "-e", script], { encoding: "utf8" }));
}

it("sweeps all less often while photos are read", () => {
  const laidOut = sweeps('import { layOutEngine } from "./src/cli/workers/engine.ts"; layOutEngine();');
  expect(laidOut).toBeLessThan(0.6 * sweeps(""));
});
