import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import sharp from "sharp";
import {
  type Level,
  planRun,
  type RenderedPhoto,
  type RunOptions,
  type RunTruth,
  renderRun,
  runYaml,
} from "../../../src/render/index.ts";

/** How far the stored picture is turned so that the orientation tag turns it back. */
const STORED_TURN = { 1: 0, 3: 180, 6: 270, 8: 90 } as const;

async function encode(photo: RenderedPhoto): Promise<Buffer> {
  const { width, height, data } = photo.picture;
  const raw = Buffer.from(data.buffer, data.byteOffset, data.byteLength);
  return sharp(raw, { raw: { width, height, channels: 3 } })
    .rotate(STORED_TURN[photo.orientation])
    .withMetadata({ orientation: photo.orientation })
    .jpeg({ quality: photo.quality })
    .toBuffer();
}

/** Renders one run into a folder: photos, run.yaml (unless left out) and truth.json. */
export async function writeRun(
  folder: string,
  level: Level,
  seed: number,
  options: RunOptions & { readonly runFile?: boolean } = {},
): Promise<RunTruth> {
  mkdirSync(folder, { recursive: true });
  const recipe = planRun(level, seed, options);
  const photos = renderRun(recipe);
  let step = photos.next();
  while (!step.done) {
    writeFileSync(join(folder, step.value.file), await encode(step.value));
    step = photos.next();
  }
  if (options.runFile !== false) writeFileSync(join(folder, "run.yaml"), runYaml(recipe));
  writeFileSync(join(folder, "truth.json"), `${JSON.stringify(step.value, null, 1)}\n`);
  return step.value;
}
