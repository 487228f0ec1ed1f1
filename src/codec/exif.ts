const ORIENTATION_TAG = 0x0112;

/**
 * Orientation in an EXIF block (JEITA CP-3451, tag 0x0112), with or without the "Exif" marker before it.
 * @returns 1 to 8; 1 where there is none
 */
export function exifOrientation(exif: Uint8Array): number {
  const block = Buffer.from(exif.buffer, exif.byteOffset, exif.length);
  return orientationOfTiff(block.toString("latin1", 0, 4) === "Exif" ? block.subarray(6) : block) ?? 1;
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
