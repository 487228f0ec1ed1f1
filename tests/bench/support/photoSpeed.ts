/**
 * Times one photo in a process of its own, as a reading runs: code as built, the engine laid out as the program does, nothing drawn before.
 * The first readings, while the engine still compiles, are told apart.
 *   tsx tests/bench/support/photoSpeed.ts PIPELINE.js PHOTO REPEATS   prints {decodeSeconds, readSeconds, ratio, firstSeconds}
 */
import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";
import sharp from "sharp";
import { layOutEngine } from "../../../src/cli/workers/engine.ts";
import type { readGroup as ReadGroup, readRun as ReadRun } from "../../../src/pipeline/index.ts";
import { median } from "../metrics/score.ts";

/** So many readings warm up: code is still being compiled during the first ten. */
const WARM_UP = 10;

layOutEngine();
const [pipeline, photo, repeats] = process.argv.slice(2);
const { readGroup, readRun } = (await import(pathToFileURL(resolve(pipeline)).href)) as {
  readGroup: typeof ReadGroup;
  readRun: typeof ReadRun;
};
const settings = { policy: "balance", want: null } as const;
const bytes = readFileSync(photo);

const decode = () => sharp(bytes).raw().toBuffer();
const read = () =>
  readRun({ files: ["photo.jpg"], run: null, findings: [] }, settings, (groups) =>
    Promise.all(groups.map((group) => readGroup(group, async () => bytes, { pictures: false }))),
  );

/** Seconds of one call. */
async function timed(work: () => Promise<unknown>): Promise<number> {
  const started = performance.now();
  await work();
  return (performance.now() - started) / 1000;
}

const decodes: number[] = [];
const reads: number[] = [];
const first: number[] = [];
for (let i = -WARM_UP; i < Number(repeats); i++) {
  const [d, r] = [await timed(decode), await timed(read)];
  if (i < 0) {
    first.push(r);
    continue;
  }
  decodes.push(d);
  reads.push(r);
}
console.log(
  JSON.stringify({
    decodeSeconds: median(decodes),
    readSeconds: median(reads),
    ratio: median(reads) / median(decodes),
    firstSeconds: first,
  }),
);
