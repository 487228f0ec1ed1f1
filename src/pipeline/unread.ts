import type { GroupPhoto, PhotoReading } from "./group.ts";

/** A photo that the run file names but the folder lacks. */
export function missingPhoto({ file, light }: GroupPhoto): PhotoReading {
  return rejected(file, light ?? "white", "It is named in run.yaml but is not in the folder.");
}

/** A photo in the folder that a run file with a list of plates does not name. */
export function unlistedPhoto(file: string): PhotoReading {
  return rejected(
    file,
    "white",
    "run.yaml lists the plates but not this photo: add it there, or move it out of the folder.",
  );
}

function rejected(file: string, light: PhotoReading["light"], reason: string): PhotoReading {
  return { file, reason, light, quality: null, width: 0, height: 0, picture: null };
}
