import { promises as fs } from "node:fs";
import { PlatepoolError } from "../model/index.ts";
import type { PhotoFile } from "./folder.ts";

/** A 60 megapixel 16-bit TIFF with alpha, uncompressed, is 480 MB. */
const MAX_BYTES = 500e6;

/**
 * Reads a photo's bytes.
 * @throws PlatepoolError photo-missing, photo-too-large, photo-unreadable
 */
export async function readPhotoBytes({ file, path }: PhotoFile): Promise<Uint8Array> {
  try {
    const { size } = await fs.stat(path);
    if (size > MAX_BYTES)
      throw new PlatepoolError(
        "photo-too-large",
        `${file}: ${Math.round(size / 1e6)} MB is more than the ${MAX_BYTES / 1e6} MB that are read: save a smaller copy`,
      );
    return await fs.readFile(path);
  } catch (error) {
    if (error instanceof PlatepoolError) throw error;
    if ((error as NodeJS.ErrnoException).code === "ENOENT")
      throw new PlatepoolError("photo-missing", `${file}: the photo has gone: put it back, then read once more`);
    throw new PlatepoolError("photo-unreadable", `${file}: the photo cannot be opened: check that you may read it`);
  }
}
