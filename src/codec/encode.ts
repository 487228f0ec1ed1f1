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

/** @returns the bytes of a PNG file, lossless */
export async function encodePng(picture: Picture): Promise<Uint8Array> {
  return pixels(picture).png({ compressionLevel: 6 }).toBuffer();
}

/**
 * Lays a drawing over a picture.
 * @param svg a whole SVG document of the picture's own size in pixels, paths only (text would need fonts)
 * @returns the bytes of a PNG file
 */
export async function composeSvg(picture: Picture, svg: string): Promise<Uint8Array> {
  return pixels(picture)
    .composite([{ input: Buffer.from(svg), top: 0, left: 0 }])
    .png({ compressionLevel: 6 })
    .toBuffer();
}
