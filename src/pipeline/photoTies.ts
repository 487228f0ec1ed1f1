import type { Quad } from "../model/index.ts";
import { halfTurned, likeness, lookAtOutline, lookSize } from "../plate/register/index.ts";
import { orderAfter, TURNS, type Turn, turnQuad } from "../plate/upright/index.ts";
import type { Picture } from "../raster/picture.ts";
import type { SeenPhoto } from "./lookAt.ts";

/** How a photo was taken against another of the same plates. */
export interface Tie {
  /** The photo that it is held against, or itself where it is like none before it. */
  readonly of: number;
  /** Quarter turns clockwise that set it as that one is. */
  readonly turn: Turn;
  /** For each plate of that one, left to right, which of this photo's it is. */
  readonly plates: readonly number[];
}

/** Correlation from which two photos show one plate as it lies, and how far behind all other ways must stay. */
const ALIKE = 0.2;
const CLEARLY = 0.12;

/**
 * How photos of the same plates are turned against each other, as spots, pencil marks and scratches on the plates show: a plate may
 * be laid the other way round when the lamp is changed, and what stands out on it stays.
 * @param together whether two photos are said to show the same plates in the same order
 */
export function tiesOf(photos: readonly SeenPhoto[], together: (a: SeenPhoto, b: SeenPhoto) => boolean): Tie[] {
  const ties: Tie[] = [];
  for (const [i, photo] of photos.entries()) {
    const heads = ties.flatMap((tie, k) => (tie.of === k ? [k] : []));
    const kin = heads.filter((k) => photos[k].plates.length === photo.plates.length && together(photos[k], photo));
    const tie = kin.map((k) => turnedAgainst(photos[k], photo, k)).find((one) => one !== null);
    ties.push(tie ?? { of: i, turn: 0, plates: photo.plates.map((_, place) => place) });
  }
  return ties;
}

function turnedAgainst(head: SeenPhoto, photo: SeenPhoto, of: number): Tie | null {
  const quads = photo.plates.map(({ quad }) => quad);
  const orders = TURNS.map((turn) => orderAfter(quads, turn));
  const alike = TURNS.map(() => 0);
  head.plates.forEach((plate, place) => {
    // Which plate of the photo this one would be hangs on the turn.
    for (const which of new Set(orders.map((order) => order[place]))) {
      const own = alikeByTurn(
        { picture: head.picture, quad: plate.quad },
        { picture: photo.picture, quad: quads[which] },
      );
      for (const turn of TURNS) if (orders[turn][place] === which) alike[turn] += own[turn] / head.plates.length;
    }
  });
  const best = clearTurn(alike);
  return best === null ? null : { of, turn: best, plates: orders[best] };
}

/** A plate as a photo shows it, or may show it. */
export interface Outlined {
  readonly picture: Picture;
  readonly quad: Quad;
}

/** How alike two outlines are for each of the four turns of the second: correlations. */
export function alikeByTurn(one: Outlined, other: Outlined): number[] {
  const size = lookSize(one.quad);
  const seen = lookAtOutline(one.picture, one.quad, size);
  const [up, aside] = [other.quad, turnQuad(other.quad, 1)].map((quad) => lookAtOutline(other.picture, quad, size));
  return [up, aside, halfTurned(up), halfTurned(aside)].map((look) => likeness(seen, look));
}

/** The turn by which two photos are clearly alike, of what they are for each turn; null where none is clear. */
export function clearTurn(alike: readonly number[]): Turn | null {
  const best = alike.indexOf(Math.max(...alike)) as Turn;
  const clear = alike[best] >= ALIKE && TURNS.every((t) => t === best || alike[t] <= alike[best] - CLEARLY);
  return clear ? best : null;
}
