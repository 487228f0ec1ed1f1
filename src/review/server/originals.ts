import { constants, promises as fs } from "node:fs";
import { sep } from "node:path";
import type { PhotoFile } from "../../store/index.ts";

/** Formats that browsers show; told by the first bytes. */
const KINDS: readonly (readonly [type: string, starts: (b: Buffer) => boolean])[] = [
  ["image/jpeg", (b) => b[0] === 0xff && b[1] === 0xd8 && b[2] === 0xff],
  ["image/png", (b) => b.subarray(0, 8).equals(Buffer.from("\x89PNG\r\n\x1a\n", "latin1"))],
  ["image/webp", (b) => b.toString("latin1", 0, 4) === "RIFF" && b.toString("latin1", 8, 12) === "WEBP"],
];
const MOST_BYTES = 100e6;

export type Original =
  | { readonly type: string; readonly bytes: Buffer }
  | { readonly status: 403 | 404 | 413 | 415; readonly why: string };

/**
 * A photo of the run as it lies in the folder. Only names on the list are looked for, and what they lead to must lie in
 * the folder: a link out of it is not followed.
 * @param photos the photos that the run folder lists
 */
export async function originalPhoto(folder: string, photos: readonly PhotoFile[], file: string): Promise<Original> {
  const listed = photos.find((p) => p.file === file);
  if (listed === undefined) return { status: 404, why: "There is no such photo in the run folder." };
  try {
    const home = await fs.realpath(folder);
    const path = await fs.realpath(listed.path);
    if (!path.startsWith(home.endsWith(sep) ? home : home + sep))
      return { status: 403, why: "This photo is a link out of the run folder; it is not shown." };
    // The path is free of links now; should its end become one meanwhile, opening fails.
    const handle = await fs.open(path, constants.O_RDONLY | constants.O_NOFOLLOW);
    try {
      const stat = await handle.stat();
      if (!stat.isFile()) return { status: 404, why: "There is no such photo in the run folder." };
      if (stat.size > MOST_BYTES) return { status: 413, why: "This photo is too large to be shown whole." };
      const bytes = await handle.readFile();
      const kind = KINDS.find(([, starts]) => starts(bytes));
      return kind ? { type: kind[0], bytes } : { status: 415, why: "Browsers do not show photos of this format." };
    } finally {
      await handle.close();
    }
  } catch {
    return { status: 404, why: "There is no such photo in the run folder." };
  }
}
