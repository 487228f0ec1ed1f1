import { createHash } from "node:crypto";
import { type Zippable, zipSync } from "fflate";

/** A file to go into an archive. */
export interface ArchiveFile {
  /** `/` between folders, no leading one. */
  readonly path: string;
  readonly bytes: Uint8Array;
}

/** SHA-256 of some bytes, hexadecimal. */
export function sha256(bytes: Uint8Array): string {
  return createHash("sha256").update(bytes).digest("hex");
}

/** Pictures are small already; packing them again costs time for nothing. */
const PACKED = /\.(jpe?g|png|webp|hei[cf]|zip)$/i;

/**
 * The bytes of a ZIP archive. The same files and time give the same bytes: no clock, no owner, no folder entries.
 * @param at time of all entries, for the ZIP's own dates (1980 or later)
 */
export function zipFiles(files: readonly ArchiveFile[], at: Date): Uint8Array {
  const entries: Zippable = {};
  // A ZIP's dates have no zone and are written as local time: shifted, they read as UTC everywhere.
  const mtime = new Date(at.getTime() + at.getTimezoneOffset() * 60_000);
  for (const { path, bytes } of files) entries[path] = [bytes, { level: PACKED.test(path) ? 0 : 6, mtime }];
  return zipSync(entries);
}
