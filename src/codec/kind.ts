/** Formats that cameras, phones and scanners write and that we read. */
export type PhotoKind = "jpeg" | "png" | "tiff" | "webp" | "heic";

/** What the first bytes of a file say it is: a photo we read, something else we know by name, or nothing known. */
export type FileKind =
  | { readonly photo: PhotoKind }
  | { readonly photo: null; readonly known: string }
  | { readonly photo: null; readonly known: null };

const HEIC_BRANDS = new Set(["heic", "heix", "heim", "heis", "hevc", "hevx", "hevm", "hevs", "mif1", "msf1", "mif2"]);

function ascii(bytes: Uint8Array, from: number, to: number): string {
  return String.fromCharCode(...bytes.subarray(from, to));
}

function startsWith(bytes: Uint8Array, ...signature: number[]): boolean {
  return signature.every((b, i) => bytes[i] === b);
}

/** All brands of an ISO base media file (ISO/IEC 14496-12 `ftyp` box), the major one first. */
function brands(bytes: Uint8Array): string[] {
  const size = (bytes[0] << 24) | (bytes[1] << 16) | (bytes[2] << 8) | bytes[3];
  const found = [ascii(bytes, 8, 12)];
  for (let at = 16; at + 4 <= Math.min(size, bytes.length, 256); at += 4) found.push(ascii(bytes, at, at + 4));
  return found;
}

function isoKind(bytes: Uint8Array): FileKind {
  const found = brands(bytes);
  if (found.some((b) => b === "avif" || b === "avis")) return { photo: null, known: "an AVIF picture" };
  if (found.some((b) => HEIC_BRANDS.has(b))) return { photo: "heic" };
  return { photo: null, known: found.includes("crx ") ? "a camera raw file" : "a video" };
}

/** Recognises a file by its first bytes alone; its name is not asked. */
export function fileKind(bytes: Uint8Array): FileKind {
  if (startsWith(bytes, 0xff, 0xd8, 0xff)) return { photo: "jpeg" };
  if (startsWith(bytes, 0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a)) return { photo: "png" };
  const order = ascii(bytes, 0, 2);
  if (order === "II" && (bytes[2] === 42 || bytes[2] === 43) && bytes[3] === 0) return { photo: "tiff" };
  if (order === "MM" && bytes[2] === 0 && (bytes[3] === 42 || bytes[3] === 43)) return { photo: "tiff" };
  if (ascii(bytes, 0, 4) === "RIFF" && ascii(bytes, 8, 12) === "WEBP") return { photo: "webp" };
  if (ascii(bytes, 4, 8) === "ftyp") return isoKind(bytes);
  if (ascii(bytes, 0, 4) === "GIF8") return { photo: null, known: "a GIF picture" };
  if (ascii(bytes, 0, 2) === "BM" && bytes.length > 26 && bytes[14] >= 12 && bytes[15] === 0)
    return { photo: null, known: "a BMP picture" };
  if (ascii(bytes, 0, 5) === "%PDF-") return { photo: null, known: "a PDF" };
  if (/^\s*(<\?xml|<svg|<!--)/i.test(ascii(bytes, 0, 256)) && /<svg/i.test(ascii(bytes, 0, 2048)))
    return { photo: null, known: "an SVG drawing" };
  return { photo: null, known: null };
}

/** True where the file's own structure shows that its end is missing (a copy cut short, or still being written). */
export function endIsMissing(bytes: Uint8Array, kind: PhotoKind): boolean {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  switch (kind) {
    case "jpeg":
      return endsInZeros(bytes) && !endsWithMarker(bytes);
    case "png":
      return !ascii(bytes, Math.max(0, bytes.length - 4096), bytes.length).includes("IEND");
    case "webp":
      return bytes.length < 12 || view.getUint32(4, true) + 8 > bytes.length || endsInZeros(bytes);
    case "heic":
      return boxesOverrun(view) || endsInZeros(bytes);
    case "tiff":
      return tiffOverruns(view);
  }
}

/** Compressed data never hold a long run of zeros: it is room set aside for a copy that did not get so far. */
function endsInZeros(bytes: Uint8Array): boolean {
  return bytes.length > 1024 && lastUsed(bytes) < bytes.length - 512;
}

/** Number of bytes without the zeros at the end. */
function lastUsed(bytes: Uint8Array): number {
  let end = bytes.length;
  while (end > 0 && bytes[end - 1] === 0) end--;
  return end;
}

/** Some cameras pad the file behind JPEG's end-of-image marker. */
function endsWithMarker(bytes: Uint8Array): boolean {
  const end = lastUsed(bytes);
  return bytes[end - 2] === 0xff && bytes[end - 1] === 0xd9;
}

function boxesOverrun(view: DataView): boolean {
  let at = 0;
  while (at + 8 <= view.byteLength) {
    let size = view.getUint32(at);
    if (size === 0) return false;
    if (size === 1) size = at + 16 <= view.byteLength ? Number(view.getBigUint64(at + 8)) : Number.POSITIVE_INFINITY;
    if (size < 8) return false;
    at += size;
  }
  return at > view.byteLength;
}

/** The first directory of a classic TIFF often stands behind the pixels: where it lies past the end, the end is missing. */
function tiffOverruns(view: DataView): boolean {
  if (view.byteLength < 8) return true;
  const little = view.getUint8(0) === 0x49;
  if (view.getUint16(2, little) !== 42) return false;
  const directory = view.getUint32(4, little);
  if (directory + 2 > view.byteLength) return true;
  return directory + 2 + 12 * view.getUint16(directory, little) + 4 > view.byteLength;
}
