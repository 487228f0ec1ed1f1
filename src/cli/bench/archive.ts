import { promises as fs } from "node:fs";
import { extname, join } from "node:path";
import type { CrateFile } from "../../report/planning/index.ts";
import { crateMetadata } from "../../report/planning/index.ts";
import { type ArchiveFile, sha256, zipFiles } from "../../store/index.ts";
import { version } from "../version.ts";

const TYPES: Readonly<Record<string, string>> = {
  ".jpg": "image/jpeg",
  ".jpeg": "image/jpeg",
  ".png": "image/png",
  ".tif": "image/tiff",
  ".tiff": "image/tiff",
  ".webp": "image/webp",
  ".heic": "image/heic",
  ".heif": "image/heif",
  ".json": "application/json",
  ".jsonl": "application/jsonl",
  ".yaml": "application/yaml",
  ".yml": "application/yaml",
  ".csv": "text/csv",
  ".html": "text/html",
  ".md": "text/markdown",
};

/** Files beside the photos that tell what was set, decided and typed: the run file, and every journal. */
const TOLD = /^(run\.ya?ml|[^.].*\.jsonl)$/;

const WORDS: Readonly<Record<CrateFile["role"], string>> = {
  photo: "Photo of a plate",
  input: "What was set, decided and typed",
  result: "Result of the reading",
  writeup: "Write-up",
};

export interface ArchiveInput {
  readonly folder: string;
  readonly title: string;
  /** Name of the archive without its ending. */
  readonly name: string;
  readonly description: string;
  readonly photos: readonly { readonly file: string; readonly path: string }[];
  readonly at: Date;
  readonly readAt: string | null;
}

/** The bytes of an `.eln` archive: photos, inputs and decisions, results and write-up, with their RO-Crate description. */
export async function elnArchive(input: ArchiveInput): Promise<Uint8Array> {
  const found: { path: string; bytes: Uint8Array; role: CrateFile["role"] }[] = [];
  for (const { file, path } of input.photos)
    found.push({ path: `photos/${file}`, bytes: await fs.readFile(path), role: "photo" });
  for (const entry of (await fs.readdir(input.folder, { withFileTypes: true })).sort((a, b) =>
    a.name < b.name ? -1 : 1,
  ))
    if (entry.isFile() && TOLD.test(entry.name))
      found.push({ path: entry.name, bytes: await fs.readFile(join(input.folder, entry.name)), role: "input" });
  const results = join(input.folder, "results");
  for (const name of (await fs.readdir(results)).sort()) {
    if (TYPES[extname(name).toLowerCase()] === undefined) continue;
    const role = name.startsWith("writeup.") ? "writeup" : "result";
    found.push({ path: `results/${name}`, bytes: await fs.readFile(join(results, name)), role });
  }
  const files: CrateFile[] = found.map(({ path, bytes, role }) => ({
    path,
    role,
    description: `${WORDS[role]}: ${path}`,
    encodingFormat: TYPES[extname(path).toLowerCase()] ?? "application/octet-stream",
    size: bytes.length,
    sha256: sha256(bytes),
  }));
  const metadata = crateMetadata({
    title: input.title,
    description: input.description,
    folder: "run",
    files,
    madeAt: input.at.toISOString(),
    readAt: input.readAt,
    version: version(),
  });
  const entries: ArchiveFile[] = [
    { path: `${input.name}/ro-crate-metadata.json`, bytes: new TextEncoder().encode(metadata) },
    ...found.map(({ path, bytes }) => ({ path: `${input.name}/run/${path}`, bytes })),
  ];
  return zipFiles(entries, input.at);
}

/** A run's name as a file name: letters, digits, dot, dash; "run" where nothing is left. */
export function fileName(run: string | null): string {
  const plain = (run ?? "")
    .normalize("NFC")
    .replace(/[^\p{L}\p{N}._-]+/gu, "-")
    .replace(/^[-.]+|[-.]+$/g, "");
  return plain.slice(0, 80) || "run";
}
