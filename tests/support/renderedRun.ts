import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { encodeJpeg } from "../../src/codec/index.ts";
import { type Level, planRun, type RunOptions, type RunTruth, renderRun, runYaml } from "../../src/render/index.ts";

/** Draws a run into a folder, run file included. */
export async function drawRun(folder: string, level: Level, seed: number, options: RunOptions): Promise<RunTruth> {
  mkdirSync(folder, { recursive: true });
  const recipe = planRun(level, seed, options);
  writeFileSync(join(folder, "run.yaml"), runYaml(recipe));
  const photos = renderRun(recipe);
  let step = photos.next();
  for (; !step.done; step = photos.next()) {
    const { file, picture, quality } = step.value;
    writeFileSync(join(folder, file), await encodeJpeg(picture, quality));
  }
  return step.value;
}
