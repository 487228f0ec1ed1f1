import { moveTubes } from "../../../decisions/index.ts";
import type { DecidedPool, Result } from "../../../model/index.ts";
import { poolOfTube } from "./shown.ts";

/** The end of a pool: between two neighbouring tubes of different pools. Places count tubes from the first. */
export interface Boundary {
  /** Number of tubes before it. */
  readonly at: number;
  readonly left: string;
  readonly right: string;
  /** How far it can go: to where one of the two pools is swallowed. */
  readonly least: number;
  readonly most: number;
}

/** Every end of a pool that has a neighbour, from the first tube on. */
export function boundaries(tubes: readonly number[], pools: readonly DecidedPool[]): readonly Boundary[] {
  const of = tubes.map((n) => poolOfTube(pools, n)?.name ?? null);
  return of.flatMap((right, at): Boundary[] => {
    const left = of[at - 1] ?? null;
    if (at === 0 || left === null || right === null || left === right) return [];
    let least = at - 1;
    while (least > 0 && of[least - 1] === left) least--;
    let most = at + 1;
    while (most < of.length && of[most] === right) most++;
    return [{ at, left, right, least, most }];
  });
}

/**
 * The pools with a boundary moved. At its utmost one pool is swallowed by the other.
 * @param to number of tubes before the boundary's new place
 */
export function moveBoundary(
  result: Result,
  tubes: readonly number[],
  pools: readonly DecidedPool[],
  boundary: Boundary,
  to: number,
): readonly DecidedPool[] {
  const place = Math.min(boundary.most, Math.max(boundary.least, Math.round(to)));
  if (place === boundary.at) return pools;
  const [moving, target] =
    place > boundary.at
      ? [tubes.slice(boundary.at, place), boundary.left]
      : [tubes.slice(place, boundary.at), boundary.right];
  return moveTubes(result, pools, moving, target).pools;
}

/** Where the boundary stands, in words. */
export function boundaryInWords(tubes: readonly number[], { at, left, right }: Boundary): string {
  return `pool ${left} ends with tube ${tubes[at - 1]}, pool ${right} begins with tube ${tubes[at]}`;
}
