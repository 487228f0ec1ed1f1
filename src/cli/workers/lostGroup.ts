import type { GroupReading, PhotoGroup } from "../../pipeline/index.ts";

/** A thread that died costs its photos, not the run. */
export function lostGroup(group: PhotoGroup, error: unknown): GroupReading {
  const reason = "Reading it ended unexpectedly (out of memory?): save a smaller copy, or read with --workers 1.";
  return {
    photos: group.photos.map(({ file, light }) => ({
      file,
      reason,
      light: light ?? "white",
      quality: null,
      width: 0,
      height: 0,
      picture: null,
    })),
    plates: [],
    findings: [],
    crashes: [String(error)],
  };
}
