/**
 * How well rendered runs are read. Renders each run, reads it, scores it against the truth:
 *   npm run bench:accuracy -- [--level easy,normal] [--runs 25] [--seed 900000] [--keep DIR | --from DIR]
 *                             [--no-run-file] [--json FILE] [--workers 2]
 * --keep leaves the rendered runs in DIR, --from reads runs kept there instead of rendering anew; --no-run-file hides
 * run.yaml from the reader, so that it must count lanes itself.
 * Seeds below 10000 are for development; those from 900000 up are for this benchmark and never looked at in tuning.
 */
import { existsSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { openPool } from "../../src/cli/workers/pool.ts";
import { LEVELS, type Level, type RunTruth } from "../../src/render/index.ts";
import { type RunScore, scoreRun } from "./metrics/run.ts";
import { type LevelSummary, summarise } from "./metrics/summary.ts";
import { worstPhotos } from "./metrics/worst.ts";
import { readQuietly } from "./support/read-folder.ts";
import { summaryTable } from "./support/table.ts";
import { writeRun } from "./support/write-run.ts";

const { values } = parseArgs({
  options: {
    level: { type: "string", default: LEVELS.join(",") },
    runs: { type: "string", default: "25" },
    seed: { type: "string", default: "900000" },
    keep: { type: "string" },
    from: { type: "string" },
    "no-run-file": { type: "boolean", default: false },
    json: { type: "string" },
    workers: { type: "string", default: "2" },
  },
});
const levels = values.level.split(",") as Level[];
const unknown = levels.find((level) => !LEVELS.includes(level));
if (unknown !== undefined) {
  console.error(`no level "${unknown}": give ${LEVELS.join(", ")}, with commas between`);
  process.exit(2);
}
const withRunFile = !values["no-run-file"];
const base = values.from ?? values.keep ?? mkdtempSync(join(tmpdir(), "plates-"));
const temporary = !values.from && !values.keep;
const pool = openPool(Number(values.workers));

function truthIn(folder: string): RunTruth {
  return JSON.parse(readFileSync(join(folder, "truth.json"), "utf8"));
}

/** Reads one run; where lanes are to be counted, the run file is put aside meanwhile. */
async function readAndScore(folder: string): Promise<RunScore> {
  const runFile = join(folder, "run.yaml");
  const aside = join(folder, "run.yaml.aside");
  const hide = !withRunFile && existsSync(runFile);
  if (hide) renameSync(runFile, aside);
  try {
    return scoreRun(truthIn(folder), await readQuietly(folder, pool));
  } finally {
    if (hide) renameSync(aside, runFile);
    if (temporary) rmSync(folder, { recursive: true });
  }
}

async function scoreLevel(level: Level): Promise<RunScore[]> {
  const pending: Promise<RunScore>[] = [];
  for (let i = 0; i < Number(values.runs); i++) {
    const seed = Number(values.seed) + i;
    const folder = join(base, level, `run-${seed}`);
    if (!values.from) await writeRun(folder, level, seed);
    // the next run is drawn while this one is read; no more than two wait
    if (pending.length >= 2) await pending[pending.length - 2];
    pending.push(readAndScore(folder));
    if (process.stderr.isTTY) process.stderr.write(`\r${level}: ${i + 1} of ${values.runs} runs `);
  }
  const scores = await Promise.all(pending);
  if (process.stderr.isTTY) process.stderr.write("\r\u001b[K");
  return scores;
}

try {
  const summaries = new Map<Level, LevelSummary>();
  const all: RunScore[] = [];
  for (const level of levels) {
    const scores = await scoreLevel(level);
    summaries.set(level, summarise(scores));
    all.push(...scores);
  }
  const worst = levels.map((level) => ({ level, photos: worstPhotos(all.filter((s) => s.truth.level === level)) }));
  console.log(`seeds ${values.seed} and up, ${withRunFile ? "with" : "without"} run files\n`);
  console.log(summaryTable(summaries, withRunFile));
  for (const { level, photos } of worst) {
    console.log(`\nworst at ${level}:`);
    for (const { run, file, what } of photos) console.log(`  ${run}/${file}  ${what}`);
  }
  if (values.json) {
    const summary = { seed: Number(values.seed), withRunFile, levels: Object.fromEntries(summaries), worst };
    writeFileSync(values.json, `${JSON.stringify(summary, null, 2)}\n`);
  }
} finally {
  await pool.close();
  if (temporary) rmSync(base, { recursive: true, force: true });
}
