import { promises as fs } from "node:fs";
import { join } from "node:path";
import { FRONT_SIDES, POLICIES, RESULT_SCHEMA, type ReadSettings, type Result } from "../model/index.ts";
import { findPhotos } from "./folder.ts";
import { openResults } from "./results.ts";

/** The result that the last reading left, and when. */
export interface StoredResult {
  readonly result: Result;
  /** ISO 8601. */
  readonly readAt: string;
}

/** What a reading depends on besides the photos and what was mended, which the result itself tells. */
const INPUT = /^run\.ya?ml$/;

/**
 * The result in `FOLDER/results`, or null where there is none, it is not whole, of another format, of other photos, or
 * older than a photo or the run file: then the photos have to be read anew.
 */
export async function storedResult(folder: string): Promise<StoredResult | null> {
  const path = pathOf(folder);
  try {
    const { mtimeMs } = await fs.stat(path);
    const result = await whole(path);
    if (result === null) return null;
    const { photos } = await findPhotos(folder);
    const inputs = (await fs.readdir(folder)).filter((name) => INPUT.test(name));
    const times = [...photos.map((p) => p.path), ...inputs.map((name) => join(folder, name))].map((p) =>
      fs.stat(p).then(
        (s) => s.mtimeMs,
        () => 0,
      ),
    );
    const newest = Math.max(0, ...(await Promise.all(times)));
    const told = new Set(result.photos.map((p) => p.file));
    const there = new Set(photos.map((p) => p.file));
    const same = told.size === there.size && [...there].every((file) => told.has(file));
    if (newest > mtimeMs || !same) return null;
    return { result, readAt: new Date(mtimeMs).toISOString() };
  } catch {
    return null;
  }
}

function pathOf(folder: string): string {
  return join(folder, "results", "result.json");
}

async function whole(path: string): Promise<Result | null> {
  const result = JSON.parse(await fs.readFile(path, "utf8"));
  const ours = result?.schema === RESULT_SCHEMA && Array.isArray(result.fractions) && Array.isArray(result.profiles);
  return ours ? result : null;
}

/** What the last reading of a folder was set to, also where the photos are newer; null where nobody can tell. */
export async function lastSettings(folder: string): Promise<ReadSettings | null> {
  const settings = await whole(pathOf(folder)).then(
    (result) => result?.settings,
    () => null,
  );
  if (!settings || !POLICIES.includes(settings.policy)) return null;
  const { policy, want, up } = settings;
  return {
    policy,
    want: typeof want === "string" ? want : null,
    ...(up !== undefined && FRONT_SIDES.includes(up) && { up }),
  };
}

/** Puts a result in the place of the one that it was made from without reading anew; its time stays that of the reading. */
export async function replaceStoredResult(folder: string, { readAt }: StoredResult, content: string): Promise<void> {
  const results = await openResults(folder);
  await results.write("result.json", content);
  const time = new Date(readAt);
  await fs.utimes(join(folder, "results", "result.json"), time, time);
}
