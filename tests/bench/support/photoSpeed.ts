/**
 * Times one photo in a process of its own, as a reading runs: code as built, nothing drawn before.
 *   tsx tests/bench/support/photoSpeed.ts PIPELINE.js PHOTO REPEATS   prints {decodeSeconds, readSeconds, ratio}
 */
import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";
import sharp from "sharp";
import type { readGroup as ReadGroup, readRun as ReadRun } from "../../../src/pipeline/index.ts";
import { median } from "../metrics/score.ts";

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
for (let i = -2; i < Number(repeats); i++) {
  const [d, r] = [await timed(decode), await timed(read)];
  // the first two warm up
  if (i < 0) continue;
  decodes.push(d);
  reads.push(r);
}
console.log(
  JSON.stringify({
    decodeSeconds: median(decodes),
    readSeconds: median(reads),
    ratio: median(reads) / median(decodes),
  }),
);
