import { encodeJpeg } from "../../codec/index.ts";
import { demoRun } from "../../render/index.ts";
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
  progress.step(0, 1, "drawing photos");
  const { files, runYaml } = demoRun(SEED);
  for (const { name, picture, quality } of files) await target.write(name, await encodeJpeg(picture, quality));
  await target.write("run.yaml", runYaml);
  progress.clear();
  return read(folder, flags, { json: false });
}
