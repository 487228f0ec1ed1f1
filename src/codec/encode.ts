import sharp from "sharp";
import type { Picture } from "../raster/picture.ts";

function pixels(picture: Picture) {
  const { width, height, data } = picture;
  return sharp(data, { raw: { width, height, channels: 3 } });
}

/**
 * @param quality JPEG quality, 1..100
 * @returns the bytes of a baseline JPEG file
 */
export async function encodeJpeg(picture: Picture, quality: number): Promise<Uint8Array> {
  return pixels(picture).jpeg({ quality }).toBuffer();
}

/**
 * A smaller JPEG of a picture, for showing.
 * @param maxLongSide in pixels; a smaller picture keeps its size
 */
export async function shrinkToJpeg(
  picture: Picture,
  maxLongSide: number,
  quality: number,
): Promise<{ width: number; height: number; bytes: Uint8Array }> {
  const scale = Math.max(1, Math.max(picture.width, picture.height) / maxLongSide);
  const width = Math.max(1, Math.round(picture.width / scale));
  const height = Math.max(1, Math.round(picture.height / scale));
  const bytes = await pixels(picture).resize({ width, height, fit: "fill" }).jpeg({ quality }).toBuffer();
  return { width, height, bytes };
}

/** @returns the bytes of a PNG file, lossless */
export async function encodePng(picture: Picture): Promise<Uint8Array> {
  return pixels(picture).png({ compressionLevel: 6 }).toBuffer();
}

/**
 * Lays a drawing over a picture, in one go beside this thread.
 * @param jpeg one that `shrinkToJpeg` made
 * @param svg a whole SVG document of the picture's own size in pixels, paths only (text would need fonts)
 * @returns the bytes of a PNG file
 */
export async function composeSvg(jpeg: Uint8Array, svg: string): Promise<Uint8Array> {
  return sharp(jpeg)
    .composite([{ input: Buffer.from(svg), top: 0, left: 0 }])
    .png({ compressionLevel: 6 })
    .toBuffer();
}
