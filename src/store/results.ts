import { promises as fs } from "node:fs";
import { join, parse } from "node:path";
import writeFileAtomic from "write-file-atomic";
import { PlatepoolError, RESULT_SCHEMA } from "../model/index.ts";

const RESULTS = "results";
const STALE_MS = 10 * 60 * 1000;

/**
 * Names of the annotated pictures, one per photo: the photo's name with the ending `.png`, or, where two photos differ
 * by their ending alone, the whole name with `.png` behind it.
 */
export function annotatedNames(files: readonly string[]): Map<string, string> {
  const stems = files.map((f) => parse(f).name.toLowerCase());
  return new Map(
    files.map((file, i) => {
      const alone = stems.indexOf(stems[i]) === stems.lastIndexOf(stems[i]);
      return [file, `${alone ? parse(file).name : file}.png`];
    }),
  );
}

/** Writes into `FOLDER/results`, each file whole or not at all. */
export interface ResultsWriter {
  /** The text of a file as it stands; null where there is none. */
  read(name: string): Promise<string | null>;
  /** Writes one file: to a temporary name, synced to disk, then renamed. */
  write(name: string, content: string | Uint8Array): Promise<void>;
  /** Takes away what an earlier reading wrote for photos that are no longer in the run. */
  forgetOthers(files: readonly string[]): Promise<void>;
}

/**
 * Makes `FOLDER/results` ready for writing and clears what an interrupted write left there.
 * @throws PlatepoolError results-not-a-folder, results-not-writable
 */
export async function openResults(folder: string): Promise<ResultsWriter> {
  const dir = join(folder, RESULTS);
  await guarded(() => fs.mkdir(dir, { recursive: true }));
  await clearStale(dir);
  const before = await earlierPhotos(dir);
  return {
    read: (name) => fs.readFile(join(dir, name), "utf8").catch(() => null),
    write: (name, content) =>
      guarded(() => writeFileAtomic(join(dir, name), typeof content === "string" ? content : Buffer.from(content))),
    forgetOthers: async (files) => {
      const kept = new Set(annotatedNames(files).values());
      for (const name of annotatedNames(before).values())
        if (!kept.has(name)) await fs.rm(join(dir, name), { force: true });
    },
  };
}

async function guarded<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    if (code === "EEXIST" || code === "ENOTDIR")
      throw new PlatepoolError(
        "results-not-a-folder",
        "results: a file stands where the results folder belongs: rename it",
      );
    if (code === "ENOSPC")
      throw new PlatepoolError("results-not-writable", "results: the disk is full: make room, then read once more");
    throw new PlatepoolError(
      "results-not-writable",
      "results: cannot be written: check that you may write in the run folder and that no program holds a file there",
    );
  }
}

/** write-file-atomic names its temporary files NAME.NUMBER; a killed process leaves them behind. */
async function clearStale(dir: string): Promise<void> {
  for (const name of await fs.readdir(dir)) {
    if (!/\.(json|csv|png|html|md|eln)\.\d+$/.test(name)) continue;
    const path = join(dir, name);
    const stat = await fs.lstat(path).catch(() => null);
    if (stat?.isFile() && Date.now() - stat.mtimeMs > STALE_MS) await fs.rm(path, { force: true });
  }
}

/** Photos that the result now in the folder speaks of; none where it is not ours or not whole. */
async function earlierPhotos(dir: string): Promise<string[]> {
  try {
    const earlier = JSON.parse(await fs.readFile(join(dir, "result.json"), "utf8"));
    if (earlier.schema !== RESULT_SCHEMA) return [];
    const files: unknown[] = earlier.photos.map((p: { file: unknown }) => p.file);
    return files.filter((f): f is string => typeof f === "string" && parse(f).base === f);
  } catch {
    return [];
  }
}
