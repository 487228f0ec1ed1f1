import { promises as fs } from "node:fs";
import { join } from "node:path";
import type { Finding, RunFile } from "../model/index.ts";
import { PlatepoolError } from "../model/index.ts";
import { findPhotos, type PhotoFile } from "./folder.ts";
import { nearest } from "./nearest.ts";
import { parseRunFile } from "./runfile/index.ts";

/** Names a run file may have; the first is the one to tell people. */
const RUN_FILES = ["run.yaml", "run.yml"];
const MAX_RUN_FILE_BYTES = 1_000_000;

/** What a run folder holds before anything is decoded. */
export interface RunFolder {
  readonly photos: readonly PhotoFile[];
  /** Null where the folder has no run file. */
  readonly run: RunFile | null;
  readonly findings: readonly Finding[];
}

/** A run file that is wrong: every fault on a line of its own. */
export class RunFileError extends PlatepoolError {
  readonly faults: readonly string[];

  constructor(faults: readonly string[]) {
    super("run-file", faults[0]);
    this.faults = faults;
  }
}

/**
 * Opens a run folder: its photos and its run file, the names in it matched to the photos that are there.
 * @throws RunFileError; PlatepoolError folder-missing, folder-not-a-folder, folder-unreadable, run-file-unreadable
 */
export async function openRunFolder(folder: string): Promise<RunFolder> {
  const { photos, findings } = await findPhotos(folder);
  const found = await readRunFile(folder);
  if (found === null) return { photos, run: null, findings };
  const parsed = parseRunFile(found.text, found.name);
  if (parsed.run === null) throw new RunFileError(parsed.faults);
  const matched = matchPhotos(parsed.run, photos, found.name);
  return { photos, run: matched.run, findings: [...findings, ...parsed.findings, ...matched.findings] };
}

async function readRunFile(folder: string): Promise<{ name: string; text: string } | null> {
  for (const name of RUN_FILES) {
    const path = join(folder, name);
    const stat = await fs.stat(path).catch(() => null);
    if (stat === null) continue;
    if (!stat.isFile() || stat.size > MAX_RUN_FILE_BYTES)
      throw new PlatepoolError(
        "run-file-unreadable",
        `${name}: this is no run file: put a text file in its place or take it away`,
      );
    const bytes = await fs.readFile(path).catch(() => {
      throw new PlatepoolError("run-file-unreadable", `${name}: cannot be opened: check that you may read it`);
    });
    return { name, text: utf8(bytes, name) };
  }
  return null;
}

function utf8(bytes: Uint8Array, name: string): string {
  try {
    const text = new TextDecoder("utf-8", { fatal: true }).decode(bytes);
    if (!text.includes("\0")) return text;
  } catch {
    // Falls through to the same words.
  }
  throw new PlatepoolError("run-file-unreadable", `${name}: not a text in UTF-8: save it as UTF-8`);
}

/** Gives each photo of the run file the spelling that the file system has (capitals and accents may differ). */
function matchPhotos(run: RunFile, photos: readonly PhotoFile[], name: string): { run: RunFile; findings: Finding[] } {
  const findings: Finding[] = [];
  const files = photos.map((p) => p.file);
  const plain = (file: string) => file.normalize("NFC").toLowerCase();
  const spelledAs = (file: string): string | null => {
    if (files.includes(file)) return file;
    const alike = files.filter((f) => plain(f) === plain(file));
    return alike.length === 1 ? alike[0] : null;
  };
  const plates = run.plates?.map((plate) => ({
    ...plate,
    photos: plate.photos.map((photo) => {
      const file = spelledAs(photo.file);
      if (file !== null) return { ...photo, file };
      const meant = nearest(photo.file, files);
      findings.push({
        code: "photo-missing",
        message: `${name} line ${photo.line}: ${photo.file} is not in the folder.`,
        remedy:
          meant === null
            ? "Put the photo there, or take the line away."
            : `Put it there, or mend the name: did you mean ${meant}?`,
        where: { photo: photo.file },
      });
      return photo;
    }),
  }));
  return { run: { ...run, plates: plates ?? null }, findings };
}
