import { shrinkToJpeg } from "../codec/index.ts";
import type { Quad } from "../model/index.ts";
import { straighten } from "../plate/rectify/index.ts";
import type { JpegBytes, StraightenedPicture } from "./group.ts";
import type { SeenPhoto } from "./lookAt.ts";

/** Long sides in pixels: what a page shows at most. */
const PHOTO_SIDE = 1400;
const PLATE_SIDE = 900;
const QUALITY = 82;

/** The photo as report and review show it. */
export function shrunkPhoto({ picture }: SeenPhoto): Promise<JpegBytes> {
  return shrinkToJpeg(picture, PHOTO_SIDE, QUALITY);
}

/** How large a plate is shown. */
export interface ShownSize {
  readonly width: number;
  readonly height: number;
}

export function shownSize(aspect: number): ShownSize {
  const long = Math.max(1, aspect);
  return {
    width: Math.max(1, Math.round(PLATE_SIDE / long)),
    height: Math.max(1, Math.round((PLATE_SIDE / long) * aspect)),
  };
}

/** A plate with its perspective undone, as one of its photos shows it. */
export async function straightenedPicture(
  { file, light, stain, picture }: SeenPhoto,
  quad: Quad,
  { width, height }: ShownSize,
): Promise<StraightenedPicture> {
  const upright = straighten(picture, quad, width, height);
  return { file, light, stain, ...(await shrinkToJpeg(upright, PLATE_SIDE, QUALITY)) };
}
