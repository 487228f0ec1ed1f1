import { type Finding, FRONT_SIDES, type FrontSide } from "../model/index.ts";
import { judgeQuality } from "../plate/quality/index.ts";
import { plateAspect } from "../plate/rectify/index.ts";
import {
  goesItsOwnWay,
  orderAfter,
  type Standing,
  standingOf,
  standingTogether,
  type ToldLanes,
  TURNS,
  type Turn,
  turnBesideOthers,
  turnedBy,
  turnQuad,
  type UprightTurn,
  uprightTurns,
} from "../plate/upright/index.ts";
import type { PlateWay } from "./group.ts";
import type { SeenPhoto, SeenPlate } from "./lookAt.ts";
import { tiesOf } from "./photoTies.ts";

/**
 * Sets the plates of photos that belong together front up, left to right as they then stand. Photos of which nobody said how they
 * stand are taken to stand alike, or a quarter turn apart where the shape of their plates shows it.
 * @param told where the front points in all of them; null: as is said of each, or to be seen
 */
export function standUpright(photos: readonly SeenPhoto[], told: FrontSide | null, known: Known = {}): SeenPhoto[] {
  const untold = photos.filter((photo) => !(told ?? photo.up));
  const seen = waysOf(untold, known);
  return photos.map((photo) => {
    const side = told ?? photo.up;
    const ways = side ? null : seen[untold.indexOf(photo)];
    const own = ways ?? photo.plates.map(() => toldTurn(side!));
    const turned = photo.plates.map((plate, i) => {
      const { turn } = own[i];
      if (turn === 0) return plate;
      const quad = turnQuad(plate.quad, turn);
      return { ...plate, quad, quality: judgeQuality(photo.picture, quad, photo.scale) };
    });
    const alike = own.every(({ turn }) => turn === own[0].turn);
    const plates = alike ? orderOf(photo.plates, own[0].turn).map((i) => turned[i]) : turned;
    const unsure = own.find(({ sure }) => !sure);
    const findings = unsure ? [...photo.findings, wayUpUnsure(photo.file, unsure.turn)] : photo.findings;
    const kept = ways?.map(({ standing, turn }): PlateWay => ({ file: photo.file, standing, turn }));
    return { ...photo, plates, ...(kept && { ways: kept }), findings };
  });
}

/** What is known of photos beforehand. */
export interface Known {
  /** What is told of the lanes of a plate; left out: nothing. */
  readonly lanesOf?: (file: string, place: number) => ToldLanes | null;
  /** Whether two photos are said to show the same plates; left out: they are not. */
  readonly together?: (a: string, b: string) => boolean;
}

/** For each photo and plate, how it may stand and how it was turned. */
function waysOf(
  photos: readonly SeenPhoto[],
  { lanesOf = () => null, together = () => false }: Known,
): (UprightTurn & Omit<PlateWay, "file">)[][] {
  const standings = photos.map(({ picture, plates, file }) => {
    const orders = TURNS.map((turn) => orderOf(plates, turn));
    return plates.map(({ quad }, i) => standingOf(picture, quad, (turn) => lanesOf(file, orders[turn].indexOf(i))));
  });
  const ties = tiesOf(photos, (a, b) => together(a.file, b.file));
  const heads = photos.flatMap((_, i) => (ties[i].of === i ? [i] : []));
  // What a plate shows in all photos that are tied to one speaks for that one.
  const shown = heads.map((head) =>
    photos[head].plates.map((_, place) =>
      standingTogether(
        ties.flatMap(({ of, turn, plates }, i) => (of === head ? [turnedBy(standings[i][plates[place]], turn)] : [])),
      ),
    ),
  );
  const turns = uprightTurns(shown.map(standingTogether), crosswise(heads.map((i) => photos[i])));
  // A plate that alone lies otherwise has the lanes of its place among the others.
  const alone = (i: number, which: number, turn: Turn): Standing => {
    const { picture, file, plates } = photos[i];
    if (plates.length === 1) return standings[i][which];
    const at = orderOf(plates, turn).indexOf(which);
    return standingOf(picture, plates[which].quad, () => lanesOf(file, at));
  };
  const settled = shown.map((plates, head) =>
    plates.map((standing, place) => {
      if (plates.length === 1 || !goesItsOwnWay(standing, turns[head].turn))
        return turnBesideOthers(standing, turns[head]);
      const seen = ties.flatMap(({ of, turn, plates: own }, i) =>
        of === heads[head] ? [turnedBy(alone(i, own[place], added(turns[head].turn, turn)), turn)] : [],
      );
      return turnBesideOthers(standingTogether(seen), turns[head]);
    }),
  );
  return photos.map((_, i) => {
    const { of, turn, plates } = ties[i];
    const head = heads.indexOf(of);
    return standings[i].map((standing, which) => {
      const { sure, turn: own } = settled[head][plates.indexOf(which)];
      const tied = { sure, turn: added(own, turn) };
      // Photos are tied by all their plates together: one of several may be laid down otherwise all the same.
      const apart = ties.some((tie, k) => tie.of === of && k !== i) && goesItsOwnWay(standing, tied.turn);
      const way = apart ? turnBesideOthers(alone(i, which, added(turns[head].turn, turn)), tied) : tied;
      return { standing, ...way };
    });
  });
}

function added(a: Turn, b: Turn): Turn {
  return ((a + b) & 3) as Turn;
}

function orderOf(plates: readonly SeenPlate[], turn: Turn): number[] {
  return orderAfter(
    plates.map(({ quad }) => quad),
    turn,
  );
}

/** Height over width, or its inverse, from which on a plate shows which way it is longer. */
const ELONGATED = 1.12;
/** Logarithms of the two that differ by no more are one. */
const SAME = 0.1;

/**
 * Which photos are turned by a quarter against the first, as the shapes of their plates show; false where they do not, or
 * where the photos show several plates in different selections.
 */
function crosswise(photos: readonly SeenPhoto[]): boolean[] {
  const aspects = photos.map(({ plates, picture }) =>
    plates.map(({ quad }) => Math.log(plateAspect(quad, picture.width, picture.height))),
  );
  if (aspects.some((own) => own.length !== aspects[0].length)) return photos.map(() => false);
  const sides: boolean[] = [];
  for (const own of aspects) {
    const before = aspects.slice(0, sides.length);
    const like = before.findIndex((other) => sameShapes(other, own, 1) || sameShapes(other, own, -1));
    sides.push(like >= 0 && sides[like] === sameShapes(before[like], own, 1));
  }
  return sides;
}

/** Whether the plates of two photos are all of one shape, or of inverse shape (sign -1), and longish enough to tell. */
function sameShapes(a: readonly number[], b: readonly number[], sign: 1 | -1): boolean {
  const longish = (log: number) => Math.abs(log) > Math.log(ELONGATED);
  return a.every((log, i) => longish(log) && longish(b[i]) && Math.abs(log - sign * b[i]) < SAME);
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
