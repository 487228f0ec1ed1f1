import { PlatepoolError } from "../../model/index.ts";
import { acceptPools, mergePools, moveTubes, namePool, reopenPools, splitPool } from "../../pipeline/index.ts";
import type { ReadingFlags } from "../reading/options.ts";
import { dividing, keep } from "./keep.ts";
import { parseTube, parseTubes } from "./tubes.ts";

/** `platepool accept FOLDER [pools...]` */
export function accept(folder: string, pools: readonly string[], flags: ReadingFlags): Promise<number> {
  const names = pools.length > 0 ? pools : null;
  return keep(
    folder,
    flags,
    dividing((result, now) => acceptPools(result, now, names)),
  );
}

/** `platepool reopen FOLDER pools...` */
export function reopen(folder: string, pools: readonly string[], flags: ReadingFlags): Promise<number> {
  return keep(
    folder,
    flags,
    dividing((_, now) => reopenPools(now, pools)),
  );
}

export interface MoveFlags extends ReadingFlags {
  readonly to?: string;
  readonly apart?: boolean;
}

/** `platepool move FOLDER TUBES --to POOL` */
export function move(folder: string, tubes: string, flags: MoveFlags): Promise<number> {
  if ((flags.to === undefined) === !flags.apart)
    throw new PlatepoolError("decision-nothing", "where to? Give --to POOL, or --apart for a pool of their own");
  const numbers = parseTubes(tubes);
  return keep(
    folder,
    flags,
    dividing((result, now) => moveTubes(result, now, numbers, flags.to ?? null)),
  );
}

/** `platepool split FOLDER POOL TUBE` */
export function split(folder: string, pool: string, tube: string, flags: ReadingFlags): Promise<number> {
  const before = parseTube(tube);
  return keep(
    folder,
    flags,
    dividing((result, now) => splitPool(result, now, pool, before)),
  );
}

/** `platepool merge FOLDER POOLS...` */
export function merge(folder: string, pools: readonly string[], flags: ReadingFlags): Promise<number> {
  return keep(
    folder,
    flags,
    dividing((result, now) => mergePools(result, now, pools)),
  );
}

/** `platepool name FOLDER POOL NAME` */
export function name(folder: string, pool: string, to: string, flags: ReadingFlags): Promise<number> {
  return keep(
    folder,
    flags,
    dividing((_, now) => namePool(now, pool, to)),
  );
}
