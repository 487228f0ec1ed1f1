import { PlatepoolError } from "../model/index.ts";
import type { FileKind } from "./kind.ts";

/** Largest photo that is decoded, in megapixels. */
export const MAX_MEGAPIXELS = 60;

export function emptyFile(name: string): PlatepoolError {
  return new PlatepoolError(
    "photo-empty",
    `${name}: the file is empty (0 bytes): copy it again from the camera or phone`,
  );
}

export function notAPhoto(name: string, kind: FileKind): PlatepoolError {
  if (kind.photo === null && kind.known !== null)
    return new PlatepoolError(
      "photo-unsupported",
      `${name}: this is ${kind.known}, which is not read: save the photo as JPEG, PNG, TIFF, WebP or HEIC`,
    );
  return new PlatepoolError(
    "photo-not-a-picture",
    `${name}: not a picture, though named like one: put the real photo in its place or move this file out of the folder`,
  );
}

export function tooLarge(name: string, width: number, height: number): PlatepoolError {
  const megapixels = Math.round((width * height) / 1e6);
  return new PlatepoolError(
    "photo-too-large",
    `${name}: ${width} x ${height} pixels (${megapixels} megapixels) is more than the ${MAX_MEGAPIXELS} that are read: save a smaller copy`,
  );
}

export function incomplete(name: string): PlatepoolError {
  return new PlatepoolError(
    "photo-truncated",
    `${name}: the end of the file is missing (cut short, or still being written): copy it again, then read once more`,
  );
}

export function damaged(name: string): PlatepoolError {
  return new PlatepoolError(
    "photo-damaged",
    `${name}: the picture is damaged inside: copy it again from the camera or phone`,
  );
}

/** Turns a complaint of a decoding library into our own words. */
export function decodeFault(error: unknown, name: string): PlatepoolError {
  if (error instanceof PlatepoolError) return error;
  const said = error instanceof Error ? error.message : String(error);
  if (/premature end|unexpected end of file/i.test(said)) return incomplete(name);
  return damaged(name);
}
