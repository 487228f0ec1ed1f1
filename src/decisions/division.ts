import { type DecidedPool, type Division, type DivisionDeed, PlatepoolError } from "../model/index.ts";
import { poolOf, type TubesRead } from "./readAs.ts";
import { poolsInWords, tubesInWords } from "./words.ts";

/** A division after a deed, ready to be kept as an act. */
export interface Divided {
  readonly done: DivisionDeed;
  readonly pools: readonly DecidedPool[];
}

/**
 * The division as it stands: the person's, or the suggestion where nothing was decided. Tubes of the reading that no
 * decided pool holds follow as pools of their own, as they are suggested and not accepted.
 */
export function presentDivision(read: TubesRead, division: Division | null): readonly DecidedPool[] {
  const decided = division?.pools ?? [];
  const placed = new Set(decided.flatMap((p) => p.fractions));
  const pools = [...decided];
  for (const suggested of read.pools) {
    const open = suggested.fractions.filter((n) => !placed.has(n));
    if (open.length === 0) continue;
    const free = pools.every((p) => !sameName(p.name, suggested.id));
    pools.push(poolOf(read, free ? suggested.id : freshName(pools), open, false));
  }
  return inOrder(pools);
}

/** Tubes of the reading that no decided pool holds; none where nothing was decided. */
export function undecidedTubes(read: TubesRead, division: Division | null): number[] {
  if (division === null) return [];
  const placed = new Set(division.pools.flatMap((p) => p.fractions));
  return read.fractions.map((f) => f.number).filter((n) => !placed.has(n));
}

/** Says yes to the pools named; null: to all. What the plates say of them now is what was accepted. */
export function acceptPools(read: TubesRead, pools: readonly DecidedPool[], names: readonly string[] | null): Divided {
  const chosen = new Set(names === null ? pools : names.map((name) => findPool(pools, name)));
  return {
    done: "accept",
    pools: pools.map((p) => (chosen.has(p) ? poolOf(read, p.name, p.fractions, true) : p)),
  };
}

/** Takes the yes back from the accepted pools named. */
export function reopenPools(pools: readonly DecidedPool[], names: readonly string[]): Divided {
  const chosen = new Set(names.map((name) => findPool(pools, name)));
  const open = [...chosen].filter((p) => !p.accepted).map((p) => p.name);
  if (open.length > 0)
    throw new PlatepoolError(
      "decision-nothing",
      `${poolsInWords(open)} ${open.length === 1 ? "is" : "are"} not accepted, so there is nothing to open again`,
    );
  return { done: "reopen", pools: pools.map((p) => (chosen.has(p) ? { ...p, accepted: false } : p)) };
}

/** Puts tubes into a pool, or with `to` null into a new one of their own. A pool left without tubes is gone. */
export function moveTubes(
  read: TubesRead,
  pools: readonly DecidedPool[],
  tubes: readonly number[],
  to: string | null,
): Divided {
  const moving = new Set(tubes);
  for (const n of moving)
    if (!pools.some((p) => p.fractions.includes(n)))
      throw new PlatepoolError("decision-tube-unknown", `there is no tube ${n}; there are ${allTubes(pools)}`);
  const target = to === null ? null : findPool(pools, to);
  if (target !== null && [...moving].every((n) => target.fractions.includes(n)))
    throw new PlatepoolError(
      "decision-nothing",
      `${tubesInWords([...moving])} ${moving.size === 1 ? "is" : "are"} in pool ${target.name} already`,
    );
  const left = pools.map((p) => changed(read, p, p === target ? [...p.fractions, ...moving] : without(p, moving)));
  const own = target === null ? [poolOf(read, freshName(pools), rising([...moving]), false)] : [];
  return { done: "move", pools: inOrder([...left, ...own].filter((p) => p.fractions.length > 0)) };
}

/**
 * Makes a pool reach from one tube to another, as when an end of its bracket is dragged: tubes it gains leave their
 * pools, tubes it loses go to the pool beside them, or make one of their own where there is none.
 */
export function stretchPool(
  read: TubesRead,
  pools: readonly DecidedPool[],
  name: string,
  from: number,
  to: number,
): Divided {
  const pool = findPool(pools, name);
  if (!(from <= to)) throw new PlatepoolError("decision-tubes", `pool ${pool.name} would hold no tube`);
  const all = rising(pools.flatMap((p) => p.fractions));
  const own = new Set(all.filter((n) => n >= from && n <= to));
  if (own.size === 0) throw new PlatepoolError("decision-tube-unknown", `there is no tube from ${from} to ${to}`);
  const below = pool.fractions.filter((n) => n < from);
  const above = pool.fractions.filter((n) => n > to);
  const gains = new Map<DecidedPool, number[]>();
  const fresh: number[][] = [];
  for (const [lost, beside] of [
    [below, all.filter((n) => n < (below[0] ?? 0)).at(-1)],
    [above, all.find((n) => n > (above.at(-1) ?? Number.POSITIVE_INFINITY))],
  ] as const) {
    if (lost.length === 0) continue;
    const neighbour = pools.find((p) => p !== pool && beside !== undefined && p.fractions.includes(beside));
    if (neighbour) gains.set(neighbour, [...(gains.get(neighbour) ?? []), ...lost]);
    else fresh.push([...lost]);
  }
  const next = pools.map((p) =>
    p === pool ? changed(read, p, [...own]) : changed(read, p, [...without(p, own), ...(gains.get(p) ?? [])]),
  );
  for (const tubes of fresh) next.push(poolOf(read, freshName(next), rising(tubes), false));
  return { done: "boundary", pools: inOrder(next.filter((p) => p.fractions.length > 0)) };
}

/** Cuts a pool in two: tubes from `before` on make a new one. */
export function splitPool(read: TubesRead, pools: readonly DecidedPool[], name: string, before: number): Divided {
  const pool = findPool(pools, name);
  const first = pool.fractions.filter((n) => n < before);
  const rest = pool.fractions.filter((n) => n >= before);
  if (first.length === 0 || rest.length === 0)
    throw new PlatepoolError(
      "decision-nothing",
      `pool ${pool.name} holds ${tubesInWords(pool.fractions)}: name the tube, other than its first, at which the new pool begins`,
    );
  const own = poolOf(read, freshName(pools), rest, pool.accepted);
  return { done: "split", pools: inOrder([...pools.map((p) => (p === pool ? changed(read, p, first) : p)), own]) };
}

/** Makes one pool of several, under the name of the first; accepted only where all were. */
export function mergePools(read: TubesRead, pools: readonly DecidedPool[], names: readonly string[]): Divided {
  const chosen = [...new Set(names.map((name) => findPool(pools, name)))];
  if (chosen.length < 2) throw new PlatepoolError("decision-nothing", "name two pools or more that are to become one");
  const tubes = rising(chosen.flatMap((p) => p.fractions));
  const one = poolOf(
    read,
    chosen[0].name,
    tubes,
    chosen.every((p) => p.accepted),
  );
  return { done: "merge", pools: inOrder([...pools.filter((p) => !chosen.includes(p)), one]) };
}

/** Gives a pool another name. */
export function namePool(pools: readonly DecidedPool[], name: string, to: string): Divided {
  const pool = findPool(pools, name);
  const plain = to.trim().normalize("NFC");
  if (plain === pool.name) throw new PlatepoolError("decision-nothing", `pool ${pool.name} has that name already`);
  return { done: "name", pools: pools.map((p) => (p === pool ? { ...p, name: plain } : p)) };
}

/**
 * The pool a person means: by its name, capitals or not; "P2" means pool 2 too.
 * @throws PlatepoolError decision-pool-unknown
 */
export function findPool(pools: readonly DecidedPool[], name: string): DecidedPool {
  const plain = name.trim().normalize("NFC");
  const found = pools.find((p) => sameName(p.name, plain)) ?? pools.find((p) => sameName(`p${p.name}`, plain));
  if (found) return found;
  const known =
    pools.length > 0
      ? `there ${pools.length === 1 ? "is" : "are"} ${poolsInWords(pools.map((p) => p.name))}`
      : "there is none";
  throw new PlatepoolError("decision-pool-unknown", `there is no pool "${plain}"; ${known}`);
}

/** True where two names are one to a person. */
export function sameName(a: string, b: string): boolean {
  return a.normalize("NFC").toLowerCase() === b.normalize("NFC").toLowerCase();
}

/** The smallest number that no pool is called by. */
function freshName(pools: readonly DecidedPool[]): string {
  let n = 1;
  while (pools.some((p) => sameName(p.name, String(n)))) n++;
  return String(n);
}

/** The pool with other tubes; one whose tubes stay the same stays as it is. */
function changed(read: TubesRead, pool: DecidedPool, tubes: readonly number[]): DecidedPool {
  const next = rising(tubes);
  const same = next.length === pool.fractions.length && next.every((n, i) => n === pool.fractions[i]);
  return same ? pool : poolOf(read, pool.name, next, pool.accepted);
}

function without(pool: DecidedPool, tubes: ReadonlySet<number>): number[] {
  return pool.fractions.filter((n) => !tubes.has(n));
}

function rising(numbers: readonly number[]): number[] {
  return [...new Set(numbers)].sort((a, b) => a - b);
}

/** By their first tubes. */
function inOrder(pools: readonly DecidedPool[]): DecidedPool[] {
  return [...pools].sort((a, b) => a.fractions[0] - b.fractions[0]);
}

function allTubes(pools: readonly DecidedPool[]): string {
  return tubesInWords(pools.flatMap((p) => p.fractions));
}
