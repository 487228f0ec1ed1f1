const ORIENTATION_TAG = 0x0112;

/**
 * EXIF orientation written in a HEIF file's Exif item (JEITA CP-3451, tag 0x0112).
 * @returns 1 to 8; 1 where there is none
 */
export function exifOrientation(bytes: Uint8Array): number {
  const file = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length);
  for (let at = file.indexOf("Exif\0\0", 0, "latin1"); at >= 0; at = file.indexOf("Exif\0\0", at + 6, "latin1")) {
    const found = orientationOfTiff(file.subarray(at + 6));
    if (found !== null) return found;
  }
  return 1;
}

/** Orientation in a TIFF header with its first directory, or null where the bytes are no such thing. */
function orientationOfTiff(tiff: Buffer): number | null {
  const order = tiff.toString("latin1", 0, 2);
  if (tiff.length < 14 || (order !== "II" && order !== "MM")) return null;
  const u16 = (at: number) => (order === "II" ? tiff.readUInt16LE(at) : tiff.readUInt16BE(at));
  const u32 = (at: number) => (order === "II" ? tiff.readUInt32LE(at) : tiff.readUInt32BE(at));
  if (u16(2) !== 42) return null;
  const directory = u32(4);
  if (directory + 2 > tiff.length) return null;
  for (let i = 0, at = directory + 2; i < u16(directory) && at + 12 <= tiff.length; i++, at += 12) {
    if (u16(at) !== ORIENTATION_TAG) continue;
    const value = u16(at + 8);
    return value >= 1 && value <= 8 ? value : 1;
  }
  return 1;
}
