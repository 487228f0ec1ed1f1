/**
 * Name of an ICC profile, from its `desc` tag (ICC.1:2022 9.2.41; version 2 `desc` and version 4 `mluc` types).
 * @returns the first name in the profile, or "" where there is none
 */
export function profileName(icc: Uint8Array): string {
  const file = Buffer.from(icc.buffer, icc.byteOffset, icc.length);
  if (file.length < 132) return "";
  const tags = Math.min(file.readUInt32BE(128), 100);
  for (let i = 0, at = 132; i < tags && at + 12 <= file.length; i++, at += 12) {
    if (file.toString("latin1", at, at + 4) !== "desc") continue;
    const start = file.readUInt32BE(at + 4);
    return textOf(file.subarray(start, start + file.readUInt32BE(at + 8)));
  }
  return "";
}

function textOf(tag: Buffer): string {
  if (tag.length < 12) return "";
  if (tag.toString("latin1", 0, 4) === "desc")
    return tag.toString("latin1", 12, 12 + tag.readUInt32BE(8)).split("\0")[0];
  if (tag.toString("latin1", 0, 4) !== "mluc" || tag.length < 28) return "";
  const text = Buffer.from(tag.subarray(tag.readUInt32BE(24), tag.readUInt32BE(24) + tag.readUInt32BE(20)));
  return text.length % 2 === 0 ? text.swap16().toString("utf16le") : "";
}

/** What has to be done to the colours of a photo that carries the profile. */
export type ColourStep = "as-is" | "to-p3" | "to-srgb";

/**
 * sRGB and Display P3 share one transfer curve, so both are taken as they stand: turning vivid P3 green (a plate under
 * 254 nm) into sRGB would clip its red channel to nothing, and weak spots live there. Other RGB profiles are brought to
 * Display P3 for the same reason; CMYK and the rest go to sRGB.
 */
export function colourStep(icc: Uint8Array | undefined, space: string | undefined): ColourStep {
  if (space !== "srgb" && space !== "rgb16" && space !== "rgb") return "to-srgb";
  if (icc === undefined) return "as-is";
  return /sRGB|Display ?P3|IEC ?61966/i.test(profileName(icc)) ? "as-is" : "to-p3";
}
