/**
 * Writes rendered runs to look at or to develop with:
 *   npx tsx tests/bench/render-set.ts --level normal --runs 3 --seed 1 --out DIR
 * Seeds below 10000 are for development; the accuracy benchmark draws from 900000 up.
 */
import { join } from "node:path";
import { parseArgs } from "node:util";
import { LEVELS, type Level } from "../../src/render/index.ts";
import { writeRun } from "./support/write-run.ts";

const { values } = parseArgs({
  options: {
    level: { type: "string", default: "normal" },
    runs: { type: "string", default: "3" },
    seed: { type: "string", default: "1" },
    out: { type: "string" },
    "long-side": { type: "string" },
    "no-run-file": { type: "boolean", default: false },
  },
});
if (!values.out || !LEVELS.includes(values.level as Level)) {
  console.error(
    `usage: render-set.ts --level ${LEVELS.join("|")} --runs N --seed N --out DIR [--long-side PX] [--no-run-file]`,
  );
  process.exit(2);
}
for (let i = 0; i < Number(values.runs); i++) {
  const folder = join(values.out, `run-${String(i + 1).padStart(3, "0")}`);
  const started = performance.now();
  const truth = await writeRun(folder, values.level as Level, Number(values.seed) + i, {
    runFile: !values["no-run-file"],
    longSide: values["long-side"] ? Number(values["long-side"]) : undefined,
  });
  const seconds = (performance.now() - started) / 1000;
  console.log(`${folder}: ${truth.photos.length} photos, ${(seconds / truth.photos.length).toFixed(2)} s each`);
}
