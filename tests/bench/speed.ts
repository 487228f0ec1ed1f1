/**
 * How fast and how lean the reading is, as ratios within one run (npm run bench:speed):
 *   (a) one 12 MP photo, bytes to result, over a full-resolution decode of the same bytes in the same process, once its code is
 *       compiled: at most 2.0
 *   (b) a run of 8 such photos kept to one core (taskset, util-linux) over all cores, whole commands: at least 1.6
 *   (c) peak memory of a run of 40 such photos over one of 8, whole commands: at most 1.3
 * Ends with status 1 where a bar is missed. Builds src first, because that is what users run.
 */
import { execFileSync } from "node:child_process";
import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parseArgs } from "node:util";
import type { RunTruth } from "../../src/render/index.ts";
import { median } from "./metrics/score.ts";
import { writeRun } from "./support/write-run.ts";

const { values } = parseArgs({
  options: {
    repeats: { type: "string", default: "9" },
    "run-repeats": { type: "string", default: "3" },
    json: { type: "string" },
  },
});
const BARS = { photo: 2.0, cores: 1.6, memory: 1.3 };
const LONG_SIDE = 4000;
/** Draws eight plates of 6 to 10 lanes; other seeds spot every second or third tube and need fewer. */
const SEED = 700_001;
const PHOTOS = 8;

/** Inside node_modules, so that packages are found from there. */
const BUILT = "node_modules/.cache/platepool-speed";
const base = mkdtempSync(join(tmpdir(), "plates-speed-"));

/** Builds what users run, apart from dist, which others may be using. */
function build(): void {
  rmSync(BUILT, { recursive: true, force: true });
  mkdirSync(BUILT, { recursive: true });
  copyFileSync("package.json", join(BUILT, "package.json"));
  const args = ["run", "-s", "build:program", "--", "src/pipeline/index.ts", `--outdir=${join(BUILT, "dist")}`];
  execFileSync("npm", args, { stdio: "inherit" });
}

/** A run of `times` as many photos: those of a drawn run over and over, tubes numbered on. */
function repeated(folder: string, truth: RunTruth, times: number): string {
  const target = join(base, "repeated");
  mkdirSync(target);
  let tube = 0;
  const plates = Array.from({ length: times * truth.photos.length }, (_, i) => {
    const { file: original, light, stain } = truth.photos[i % truth.photos.length];
    const file = `photo-${String(i + 1).padStart(2, "0")}.jpg`;
    copyFileSync(join(folder, original), join(target, file));
    const { lanes } = truth.plates[i % truth.photos.length];
    const names = lanes.map((lane) => (lane.fraction === null ? lane.label : String(++tube)));
    const look = stain ? `light: ${light}, stain: ${stain}` : `light: ${light}`;
    return `  - photos: [{ file: ${file}, ${look} }]\n    lanes: [${names.join(", ")}]\n`;
  });
  writeFileSync(join(target, "run.yaml"), `fractions: { count: ${tube} }\nplates:\n${plates.join("")}`);
  return target;
}

/**
 * Tells the peak memory of the command's process, threads included, in kB, as Linux keeps it for the program: what `resourceUsage` tells
 * begins with what the process had that started it.
 */
const TELL_PEAK = `
  import { isMainThread } from "node:worker_threads";
  import { readFileSync, writeFileSync } from "node:fs";
  const peak = () => /^VmHWM:\\s*(\\d+)/m.exec(readFileSync("/proc/self/status", "utf8"))[1];
  if (isMainThread) process.on("exit", () => writeFileSync(process.env.PEAK_FILE, peak()));
`;

/** Runs `platepool read` as a user does. */
function command(folder: string, oneCore = false): { seconds: number; peakMb: number } {
  const peakFile = join(base, "peak");
  const hook = `data:text/javascript,${encodeURIComponent(TELL_PEAK)}`;
  rmSync(peakFile, { force: true });
  const started = performance.now();
  const run = [process.execPath, "--import", hook, join(BUILT, "dist/cli/main.js"), "read", folder, "--quiet"];
  const [program, ...args] = oneCore ? ["taskset", "-c", "0", ...run] : run;
  execFileSync(program, args, { stdio: ["ignore", "ignore", "pipe"], env: { ...process.env, PEAK_FILE: peakFile } });
  const seconds = (performance.now() - started) / 1000;
  return { seconds, peakMb: Number(readFileSync(peakFile, "utf8")) / 1024 };
}

interface PhotoRatio {
  readonly decodeSeconds: number;
  readonly readSeconds: number;
  readonly ratio: number;
  /** Of the readings that warm up. */
  readonly firstSeconds: readonly number[];
}

/** In a process of its own: drawing the photos leaves this one's memory and compiled code in another state. */
function photoRatio(photo: string, repeats: number): PhotoRatio {
  const args = [
    "tsx",
    "tests/bench/support/photoSpeed.ts",
    join(BUILT, "dist/pipeline/index.js"),
    photo,
    String(repeats),
  ];
  return JSON.parse(execFileSync("npx", args, { encoding: "utf8" })) as PhotoRatio;
}

function coresRatio(folder: string, repeats: number) {
  const one: number[] = [];
  const all: number[] = [];
  for (let i = -1; i < repeats; i++) {
    const [a, b] = [command(folder, true).seconds, command(folder).seconds];
    // the first round fills the file cache
    if (i < 0) continue;
    one.push(a);
    all.push(b);
  }
  return { oneSeconds: median(one), allSeconds: median(all), ratio: median(one) / median(all) };
}

function memoryRatio(few: string, many: string) {
  const [fewMb, manyMb] = [command(few).peakMb, command(many).peakMb];
  return { fewMb, manyMb, ratio: manyMb / fewMb };
}

try {
  const few = join(base, "run");
  const truth = await writeRun(few, "normal", SEED, { plates: PHOTOS, longSide: LONG_SIDE });
  if (truth.photos.length !== PHOTOS) throw new Error(`${truth.photos.length} photos were drawn, not ${PHOTOS}`);
  const many = repeated(few, truth, 5);
  build();
  const photo = photoRatio(join(few, truth.photos[0].file), Number(values.repeats));
  const cores = coresRatio(few, Number(values["run-repeats"]));
  const memory = memoryRatio(few, many);
  const rows = [
    {
      what: "one photo over its decode",
      ratio: photo.ratio,
      bar: `<= ${BARS.photo}`,
      met: photo.ratio <= BARS.photo,
      of: `${(1000 * photo.readSeconds).toFixed(0)} ms over ${(1000 * photo.decodeSeconds).toFixed(0)} ms`,
    },
    {
      what: "one core over all",
      ratio: cores.ratio,
      bar: `>= ${BARS.cores}`,
      met: cores.ratio >= BARS.cores,
      of: `${cores.oneSeconds.toFixed(2)} s over ${cores.allSeconds.toFixed(2)} s`,
    },
    {
      what: "memory of 40 photos over 8",
      ratio: memory.ratio,
      bar: `<= ${BARS.memory}`,
      met: memory.ratio <= BARS.memory,
      of: `${memory.manyMb.toFixed(0)} MB over ${memory.fewMb.toFixed(0)} MB`,
    },
  ];
  for (const { what, ratio, bar, met, of } of rows)
    console.log(`${what.padEnd(28)} ${ratio.toFixed(2)}  ${bar.padEnd(7)} ${met ? "met   " : "MISSED"}  (${of})`);
  const first = photo.firstSeconds.slice(0, 3).map((seconds) => (1000 * seconds).toFixed(0));
  console.log(`the first photos of a process, while code is compiled: ${first.join(", ")} ms`);
  if (values.json) writeFileSync(values.json, `${JSON.stringify({ bars: BARS, photo, cores, memory }, null, 2)}\n`);
  if (!rows.every((row) => row.met)) process.exitCode = 1;
} finally {
  rmSync(base, { recursive: true, force: true });
  rmSync(BUILT, { recursive: true, force: true });
}
