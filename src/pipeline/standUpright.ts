import { type Finding, FRONT_SIDES, type FrontSide } from "../model/index.ts";
import { judgeQuality } from "../plate/quality/index.ts";
import { standingOf, type Turn, turnQuad, type UprightTurn, uprightTurns } from "../plate/upright/index.ts";
import type { PlateWay } from "./group.ts";
import type { SeenPhoto } from "./lookAt.ts";

/**
 * Sets the plates of photos that belong together front up. Photos of which nobody said how they stand are taken to
 * stand alike.
 * @param told where the front points in all of them; null: as is said of each, or to be seen
 */
export function standUpright(photos: readonly SeenPhoto[], told: FrontSide | null): SeenPhoto[] {
  const untold = photos.filter((photo) => !(told ?? photo.up));
  const standings = untold.flatMap(({ picture, plates }) => plates.map(({ quad }) => standingOf(picture, quad)));
  const turns = uprightTurns(standings);
  return photos.map((photo) => {
    const side = told ?? photo.up;
    const own = side ? photo.plates.map(() => toldTurn(side)) : turns.splice(0, photo.plates.length);
    const ways = side ? null : own.map(({ turn }): PlateWay => ({ standing: standings.shift()!, turn }));
    const plates = photo.plates.map((plate, i) => {
      const { turn } = own[i];
      if (turn === 0) return plate;
      const quad = turnQuad(plate.quad, turn);
      return { quad, quality: judgeQuality(photo.picture, quad, photo.scale) };
    });
    const unsure = own.find(({ sure }) => !sure);
    const findings = unsure ? [...photo.findings, wayUpUnsure(photo.file, unsure.turn)] : photo.findings;
    return { ...photo, plates, ...(ways && { ways }), findings };
  });
}

function toldTurn(side: FrontSide): UprightTurn {
  return { turn: FRONT_SIDES.indexOf(side) as Turn, sure: true };
}

export const WAY_UP_UNSURE = "way-up-unsure";

function wayUpUnsure(file: string, turn: Turn): Finding {
  return {
    code: WAY_UP_UNSURE,
    message: `Which way up the plate stands is not clear; it is read with its solvent front ${FRONT_SIDES[turn]}.`,
    remedy:
      "If that is wrong, write up: left, right, down or up into run.yaml, or read again with --up: where the front points in the photo.",
    where: { photo: file },
  };
}
