import sharp, { type Sharp, type SharpOptions } from "sharp";
import type { Picture } from "../raster/picture.ts";
import { damaged, decodeFault, emptyFile, incomplete, MAX_MEGAPIXELS, notAPhoto, tooLarge } from "./faults.ts";
import { decodeHeic } from "./heic.ts";
import { endIsMissing, fileKind } from "./kind.ts";
import { colourStep } from "./profile.ts";

// Parallel photos beat parallel strips of one photo, and a cache would let memory grow with the run.
sharp.concurrency(1);
sharp.cache(false);

/** A photo ready for reading. */
export interface DecodedPhoto {
  /** Upright, 8-bit, sRGB transfer curve, at most `maxLongSide` long. */
  readonly picture: Picture;
  /** Size of the upright original in pixels. */
  readonly width: number;
  readonly height: number;
  /** Original pixels per picture pixel, >= 1. */
  readonly scale: number;
}

export interface DecodeOptions {
  /** Longest side of the decoded picture in pixels; smaller photos keep their size. */
  readonly maxLongSide: number;
}

/** Behind transparent pixels: a grey that no plate has under any light, so that a cut-out plate keeps its outline. */
const BACKDROP = { r: 128, g: 128, b: 128 };

/**
 * Decodes the bytes of a JPEG, PNG, TIFF, WebP or HEIC/HEIF photo, upright and no larger than asked for.
 * The format is told by the bytes, never by the name, which serves messages only.
 * @throws PlatepoolError photo-empty, photo-not-a-picture, photo-unsupported, photo-too-large, photo-truncated,
 *   photo-damaged; each message is one line with the name, the fault and the remedy
 */
export async function decodePhoto(bytes: Uint8Array, name: string, options: DecodeOptions): Promise<DecodedPhoto> {
  if (bytes.length === 0) throw emptyFile(name);
  const kind = fileKind(bytes);
  if (kind.photo === null) throw notAPhoto(name, kind);
  if (endIsMissing(bytes, kind.photo)) throw incomplete(name);
  try {
    return await (kind.photo === "heic" ? fromHeic(bytes, name, options) : fromSharp(bytes, name, options));
  } catch (error) {
    throw decodeFault(error, name);
  }
}

async function fromSharp(bytes: Uint8Array, name: string, options: DecodeOptions): Promise<DecodedPhoto> {
  const limits: SharpOptions = { limitInputPixels: MAX_MEGAPIXELS * 1e6, sequentialRead: true };
  const {
    width,
    height,
    orientation = 1,
    icc,
    space,
    hasAlpha,
    autoOrient,
  } = await sharp(bytes, {
    limitInputPixels: false,
  }).metadata();
  if (!width || !height) throw damaged(name);
  if (width * height > MAX_MEGAPIXELS * 1e6) throw tooLarge(name, width, height);
  const step = colourStep(icc, space);
  const input = sharp(bytes, { ...limits, ignoreIcc: step === "as-is" });
  const upright = orientation > 1 ? input.autoOrient() : input;
  const coloured = step === "to-p3" ? upright.withIccProfile("p3", { attach: false }) : upright;
  return shrink(
    hasAlpha ? coloured.flatten({ background: BACKDROP }) : coloured,
    autoOrient.width,
    autoOrient.height,
    options,
  );
}

async function fromHeic(bytes: Uint8Array, name: string, options: DecodeOptions): Promise<DecodedPhoto> {
  const { width, height, rgba, orientation } = await decodeHeic(bytes, name);
  const pixels = sharp(new Uint8Array(rgba.buffer, rgba.byteOffset, rgba.length), {
    raw: { width, height, channels: 4 },
  });
  const turned = orientation > 4;
  return shrink(
    turn(pixels, orientation).flatten({ background: BACKDROP }),
    turned ? height : width,
    turned ? width : height,
    options,
  );
}

/** Applies an EXIF orientation to pixels that carry no EXIF (CP-3451, tag 0x0112). */
function turn(pixels: Sharp, orientation: number): Sharp {
  const mirrored = orientation === 2 || orientation === 4 || orientation === 5 || orientation === 7;
  const angle = [0, 0, 0, 180, 180, 270, 90, 90, 270][orientation];
  const flopped = mirrored ? pixels.flop() : pixels;
  return angle === 0 ? flopped : flopped.rotate(angle);
}

async function shrink(image: Sharp, width: number, height: number, options: DecodeOptions): Promise<DecodedPhoto> {
  const scale = Math.max(1, Math.max(width, height) / options.maxLongSide);
  const size = { width: Math.max(1, Math.round(width / scale)), height: Math.max(1, Math.round(height / scale)) };
  // "linear" never overshoots: a sharper kernel would draw bright rims around pencil lines and dust.
  const resized = scale > 1 ? image.resize({ ...size, fit: "fill", kernel: "linear" }) : image;
  const { data, info } = await resized
    .toColourspace("srgb")
    .raw({ depth: "uchar" })
    .toBuffer({ resolveWithObject: true });
  return { picture: threeChannels(data, info), width, height, scale };
}

function threeChannels(data: Buffer, info: { width: number; height: number; channels: number }): Picture {
  const { width, height, channels } = info;
  if (channels === 3) return { width, height, data: new Uint8Array(data.buffer, data.byteOffset, data.length) };
  const rgb = new Uint8Array(width * height * 3);
  for (let i = 0; i < width * height; i++) rgb.fill(data[i * channels], i * 3, i * 3 + 3);
  return { width, height, data: rgb };
}
