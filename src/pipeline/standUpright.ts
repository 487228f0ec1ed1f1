import type { Finding } from "../model/index.ts";
import { judgeQuality } from "../plate/quality/index.ts";
import { standingOf, turnQuad, uprightTurns } from "../plate/upright/index.ts";
import type { SeenPhoto } from "./lookAt.ts";

/** Sets the plates of photos that belong together front up. */
export function standUpright(photos: readonly SeenPhoto[]): SeenPhoto[] {
  const standings = photos.flatMap(({ picture, plates }) => plates.map(({ quad }) => standingOf(picture, quad)));
  const turns = uprightTurns(standings);
  return photos.map((photo) => {
    const own = turns.splice(0, photo.plates.length);
    const plates = photo.plates.map((plate, i) => {
      const { turn } = own[i];
      if (turn === 0) return plate;
      const quad = turnQuad(plate.quad, turn);
      return { quad, quality: judgeQuality(photo.picture, quad, photo.scale) };
    });
    const findings = own.every(({ sure }) => sure)
      ? photo.findings
      : [...photo.findings, wayUpUnsure(photo, own[0].turn)];
    return { ...photo, plates, findings };
  });
}

function wayUpUnsure({ file }: SeenPhoto, turn: number): Finding {
  const taken = ["as the photo shows it", "with its front to the left", "upside down", "with its front to the right"][
    turn
  ];
  return {
    code: "way-up-unsure",
    message: `Which way up the plate stands is not clear; it is taken ${taken}.`,
    remedy: "Photograph it with the solvent front up, or mark the origin with a tick under each lane.",
    where: { photo: file },
  };
}
