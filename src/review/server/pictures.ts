import { createHash } from "node:crypto";
import type { RunReading } from "../../pipeline/index.ts";
import { ADDRESS, type PagePhoto, type PagePlatePicture } from "../api.ts";

/** JPEGs of the reading in hand, by the digest of their bytes. */
export interface PictureShelf {
  /** Puts the pictures of a reading on the shelf, takes down all others, and says where the page finds them. */
  show(reading: Pick<RunReading, "straightened" | "photos">): {
    readonly platePictures: readonly PagePlatePicture[];
    readonly photos: readonly PagePhoto[];
  };
  get(digest: string): Uint8Array | null;
}

export function pictureShelf(): PictureShelf {
  let shelf = new Map<string, Uint8Array>();
  let before = new Map<string, Uint8Array>();
  const digests = new WeakMap<Uint8Array, string>();
  const digestOf = (bytes: Uint8Array) => {
    const known = digests.get(bytes);
    if (known !== undefined) return known;
    const digest = createHash("sha256").update(bytes).digest("hex").slice(0, 32);
    digests.set(bytes, digest);
    return digest;
  };
  return {
    show({ straightened, photos }) {
      // A page that has not heard the news yet may still ask for the pictures it knows.
      before = shelf;
      shelf = new Map();
      const put = (bytes: Uint8Array) => {
        const digest = digestOf(bytes);
        shelf.set(digest, bytes);
        return `${ADDRESS.picture}/${digest}.jpg`;
      };
      return {
        platePictures: straightened.map(({ bytes, width, height, plate, file, light, stain }) => ({
          href: put(bytes),
          width,
          height,
          plate,
          file,
          light,
          stain,
        })),
        photos: photos.map(({ bytes, width, height, file }) => ({ href: put(bytes), width, height, file })),
      };
    },
    get: (digest) => shelf.get(digest) ?? before.get(digest) ?? null,
  };
}
