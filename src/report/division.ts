import type { Result, ResultDecidedPool, ResultPool } from "../model/index.ts";

/** How the pools that count, divided by hand, stand to the suggestion. */
export interface Division {
  /** The pools that count, as the person has them. */
  readonly pools: readonly ResultDecidedPool[];
  /** The suggested pool that a pool that counts goes back to: of most tubes in common, each to one at most. */
  readonly origin: ReadonlyMap<string, ResultPool>;
  /** Suggested pools that no pool that counts holds tube for tube. */
  readonly otherwise: readonly ResultPool[];
  /** Tubes that were put elsewhere than suggested, with the pool suggested for them. */
  readonly elsewhere: ReadonlyMap<number, string>;
  /** Tubes that came after the division and stand as suggested. */
  readonly undecided: readonly number[];
}

/**
 * Compares what was decided with what is suggested; null where nothing was divided by hand. A pool under another name
 * with the same tubes is no difference.
 */
export function divisionOf({ pools: suggested, decisions }: Result): Division | null {
  const pools = decisions?.pools ?? null;
  if (decisions === undefined || pools === null) return null;
  const origin = origins(pools, suggested);
  const elsewhere = new Map<number, string>();
  for (const pool of pools)
    for (const tube of pool.fractions) {
      const home = suggested.find((p) => p.fractions.includes(tube));
      if (home && home !== origin.get(pool.id)) elsewhere.set(tube, home.id);
    }
  const otherwise = suggested.filter((s) => !pools.some((p) => sameTubes(p.fractions, s.fractions)));
  return { pools, origin, otherwise, elsewhere, undecided: decisions.undecided };
}

/** True where a pool that counts holds tube for tube what was suggested. */
export function asSuggested(division: Division, pool: Pick<ResultPool, "id" | "fractions">): boolean {
  const from = division.origin.get(pool.id);
  return from !== undefined && sameTubes(from.fractions, pool.fractions);
}

function origins(pools: readonly ResultDecidedPool[], suggested: readonly ResultPool[]): Map<string, ResultPool> {
  const pairs = pools
    .flatMap((pool) => suggested.map((from) => ({ pool, from, common: common(pool.fractions, from.fractions) })))
    .filter((p) => p.common > 0)
    .sort((a, b) => b.common - a.common);
  const found = new Map<string, ResultPool>();
  for (const { pool, from } of pairs)
    if (!found.has(pool.id) && ![...found.values()].includes(from)) found.set(pool.id, from);
  return found;
}

function common(a: readonly number[], b: readonly number[]): number {
  return a.filter((n) => b.includes(n)).length;
}

function sameTubes(a: readonly number[], b: readonly number[]): boolean {
  return a.length === b.length && common(a, b) === a.length;
}
