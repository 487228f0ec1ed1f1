import { createHash } from "node:crypto";
import { createReadStream, promises as fs } from "node:fs";
import { pipeline } from "node:stream/promises";
import type { PhotoFile } from "../../store/index.ts";

/** Digests of photos by their content; a file that looks untouched is not read again. */
export interface Digests {
  /** SHA-256, hexadecimal; null where the photo cannot be read. */
  of(photo: PhotoFile): Promise<string | null>;
}

export function openDigests(): Digests {
  const known = new Map<string, { readonly looks: string; readonly digest: string }>();
  return {
    async of({ path }) {
      try {
        const { size, mtimeMs, ctimeMs, ino } = await fs.stat(path);
        const looks = [size, mtimeMs, ctimeMs, ino].join();
        const before = known.get(path);
        if (before?.looks === looks) return before.digest;
        const hash = createHash("sha256");
        await pipeline(createReadStream(path), hash);
        const digest = hash.digest("hex");
        known.set(path, { looks, digest });
        return digest;
      } catch {
        return null;
      }
    },
  };
}
