import { shrinkToJpeg } from "../codec/index.ts";
import type { PlateReading } from "../model/index.ts";
import { straighten } from "../plate/rectify/index.ts";
import { type JpegBytes, type StraightenedPicture, scaledQuad } from "./group.ts";
import type { SeenPhoto } from "./lookAt.ts";

/** Long sides in pixels: what a page shows at most. */
const PHOTO_SIDE = 1400;
const PLATE_SIDE = 900;
const QUALITY = 82;

/** The photo as report and review show it. */
export function shrunkPhoto({ picture }: SeenPhoto): Promise<JpegBytes> {
  return shrinkToJpeg(picture, PHOTO_SIDE, QUALITY);
}

/** A plate with its perspective undone, once for each of its photos. */
export async function straightenedPictures(
  reading: PlateReading,
  photos: readonly SeenPhoto[],
): Promise<StraightenedPicture[]> {
  const long = Math.max(1, reading.aspect);
  const width = Math.max(1, Math.round(PLATE_SIDE / long));
  const height = Math.max(1, Math.round((PLATE_SIDE / long) * reading.aspect));
  const pictures: StraightenedPicture[] = [];
  for (const { file, light, stain, corners } of reading.photos) {
    const photo = photos.find((p) => p.file === file);
    if (photo === undefined) continue;
    const upright = straighten(photo.picture, scaledQuad(corners, 1 / photo.scale), width, height);
    pictures.push({ file, light, stain, ...(await shrinkToJpeg(upright, PLATE_SIDE, QUALITY)) });
  }
  return pictures;
}
