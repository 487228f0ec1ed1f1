import type { Result } from "../model/index.ts";
import type { JpegPicture, ReportInput, ShrunkPhoto, StraightenedPlate } from "./input.ts";
import { escapeText, type Markup, markup } from "./markup.ts";

/** Pictures as a report needs them. */
export type ReportPictures = Pick<ReportInput, "straightened" | "photos">;

/** A straightened plate as the report embeds it, to be used by every strip that is cut from it. */
export function plateImage(s: StraightenedPlate, id: string): Markup {
  return markup`<image data-plate="${s.plate}" data-photo="${s.photo}" data-stain="${s.stain ?? ""}" width="${s.width}" height="${s.height}" href="${dataUri(s)}" id="${id}" preserveAspectRatio="none"/>`;
}

/** A photo as the report embeds it. */
export function photoImage(photo: ShrunkPhoto): Markup {
  return markup`<image data-photo="${photo.file}" width="${photo.width}" height="${photo.height}" href="${dataUri(photo)}"/>`;
}

function dataUri({ jpegBase64 }: JpegPicture): string {
  return `data:image/jpeg;base64,${jpegBase64}`;
}

const IMAGE =
  /<image (?:data-plate="([^"]*)" )?data-photo="([^"]*)" (?:data-stain="([^"]*)" )?width="(\d+)" height="(\d+)" href="data:image\/jpeg;base64,([^"]*)"/g;

/**
 * The pictures in a report that was written for the same reading, so that it can be written anew, with other pools,
 * without a photo being read. Null where they are not all there: then it is of another reading, or of another version.
 */
export function picturesIn(html: string, result: Result): ReportPictures | null {
  const straightened: StraightenedPlate[] = [];
  const photos: ShrunkPhoto[] = [];
  for (const [, plateText, photoText, stainText, width, height, jpegBase64] of html.matchAll(IMAGE)) {
    const photo = result.photos.find((p) => escapeText(p.file) === photoText);
    if (!photo) return null;
    const picture = { width: Number(width), height: Number(height), jpegBase64 };
    if (plateText === undefined) photos.push({ file: photo.file, ...picture });
    else {
      const plate = result.plates.find((p) => escapeText(p.id) === plateText);
      if (!plate) return null;
      const stain = unescapeText(stainText ?? "") || null;
      straightened.push({ plate: plate.id, photo: photo.file, light: photo.light, stain, ...picture });
    }
  }
  const whole =
    result.photos.every((p) => p.status !== "read" || photos.some((q) => q.file === p.file)) &&
    result.plates.every((p) => p.photos.every((f) => straightened.some((s) => s.plate === p.id && s.photo === f)));
  return whole ? { straightened, photos } : null;
}

const CHARACTERS: Readonly<Record<string, string>> = {
  "&amp;": "&",
  "&lt;": "<",
  "&gt;": ">",
  "&quot;": '"',
  "&#39;": "'",
};

function unescapeText(text: string): string {
  return text.replace(/&(?:amp|lt|gt|quot|#39);/g, (entity) => CHARACTERS[entity]);
}
