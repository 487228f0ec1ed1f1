import { encodeJpeg } from "../../codec/index.ts";
import { demoRun, renderRun, runYaml } from "../../render/index.ts";
import { openDemoFolder } from "../../store/index.ts";
import { progressOn } from "../terminal/progress.ts";
import type { ReadingFlags } from "./options.ts";
import { read } from "./read.ts";

/** The demo is always the same. */
const SEED = 1;

/**
 * Draws the demo's photos into a folder, then reads it.
 * @returns the exit status
 */
export async function demo(folder: string, flags: ReadingFlags): Promise<number> {
  const progress = progressOn(process.stderr, flags.quiet ?? false);
  const target = await openDemoFolder(folder);
  const recipe = demoRun(SEED);
  let drawn = 0;
  for (const { file, picture, quality } of renderRun(recipe)) {
    progress.step(++drawn, recipe.photos.length, "photos drawn");
    await target.write(file, await encodeJpeg(picture, quality));
  }
  await target.write("run.yaml", runYaml(recipe));
  progress.clear();
  return read(folder, flags, { json: false, demo: true });
}
