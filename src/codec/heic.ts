import { createRequire } from "node:module";
import sharp from "sharp";
import { exifOrientation } from "./exif.ts";
import { MAX_MEGAPIXELS, tooLarge } from "./faults.ts";

/** An undecoded picture inside a HEIF file, as heic-decode hands it out. */
interface HeifImage {
  readonly width: number;
  readonly height: number;
  decode(): Promise<{ width: number; height: number; data: Uint8ClampedArray }>;
}

interface HeicDecode {
  all(input: { buffer: Uint8Array }): Promise<HeifImage[] & { dispose(): void }>;
}

/** RGBA pixels, 8-bit, with the EXIF orientation (1 to 8) that still has to be applied. */
export interface HeicPixels {
  readonly width: number;
  readonly height: number;
  readonly rgba: Uint8ClampedArray;
  readonly orientation: number;
}

const ACCEPTED_MAJOR = new Set(["heic", "heix", "hevc", "hevx", "mif1", "msf1"]);

let queue: Promise<unknown> = Promise.resolve();

/**
 * Decodes the first picture of a HEIC/HEIF file.
 * libheif applies the file's own `irot`, `imir` and `clap` properties (ISO/IEC 23008-12); where there is no `irot` or
 * `imir`, an EXIF orientation is the only word on which way is up, and is left to the caller to apply.
 * One at a time: the decoder writes its complaints to the console, which is hushed meanwhile.
 * @throws whatever libheif says; `PlatepoolError` photo-too-large
 */
export function decodeHeic(bytes: Uint8Array, name: string): Promise<HeicPixels> {
  const result = queue.then(() => hushed(() => decodeFirst(bytes, name)));
  queue = result.catch(() => undefined);
  return result;
}

async function decodeFirst(bytes: Uint8Array, name: string): Promise<HeicPixels> {
  // Loaded at the first HEIC only: the WebAssembly costs time and memory that other photos need not pay.
  const heic: HeicDecode = createRequire(import.meta.url)("heic-decode");
  const images = await heic.all({ buffer: withKnownBrand(bytes) });
  try {
    const { width, height } = images[0];
    if (width * height > MAX_MEGAPIXELS * 1e6) throw tooLarge(name, width, height);
    const { data } = await images[0].decode();
    return { width, height, rgba: data, orientation: await remainingOrientation(bytes) };
  } finally {
    images.dispose();
  }
}

/** heic-decode knows the commonest major brands only; a file of another one is the same inside. */
function withKnownBrand(bytes: Uint8Array): Uint8Array {
  if (ACCEPTED_MAJOR.has(String.fromCharCode(...bytes.subarray(8, 12)))) return bytes;
  const copy = new Uint8Array(bytes);
  copy.set([0x6d, 0x69, 0x66, 0x31], 8); // "mif1"
  return copy;
}

async function remainingOrientation(bytes: Uint8Array): Promise<number> {
  if (turnsItself(bytes)) return 1;
  const { exif } = await sharp(bytes).metadata();
  return exif === undefined ? 1 : exifOrientation(exif);
}

/** True where the header holds a rotation or mirror property, which libheif has then applied. */
function turnsItself(bytes: Uint8Array): boolean {
  const file = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length);
  const properties = file.indexOf("ipco");
  if (properties < 4) return false;
  const box = file.subarray(properties, properties - 4 + file.readUInt32BE(properties - 4));
  return box.includes("irot") || box.includes("imir");
}

async function hushed<T>(work: () => Promise<T>): Promise<T> {
  const { log, warn, error } = console;
  const silent = () => undefined;
  Object.assign(console, { log: silent, warn: silent, error: silent });
  try {
    return await work();
  } finally {
    Object.assign(console, { log, warn, error });
  }
}
