import { presentDivision } from "../../../decisions/index.ts";
import type { DecidedPool, Result, ResultFraction } from "../../../model/index.ts";
import { isDoubtful } from "../../../report/drawing/tube.ts";
import type { PageState } from "../../api.ts";
import type { Wished } from "./keeper.ts";

/** The pools as the person sees them: as decided, what is not saved yet included. */
export function shownPools(state: PageState, waiting: readonly Wished[]): readonly DecidedPool[] {
  const newest = waiting.findLast((act) => act.kind === "divide");
  if (newest) return newest.pools;
  return state.result ? presentDivision(state.result, state.division) : [];
}

/** The pool that a tube stands in. */
export function poolOfTube(pools: readonly DecidedPool[], tube: number): DecidedPool | null {
  return pools.find((p) => p.fractions.includes(tube)) ?? null;
}

/** The tubes, each with the pool it stands in now in place of the suggested one. */
export function tubesShown(result: Result, pools: readonly DecidedPool[]): readonly ResultFraction[] {
  const of = new Map(pools.flatMap((p) => p.fractions.map((n) => [n, p.name] as const)));
  return result.fractions.map((f) => ({ ...f, pool: of.get(f.number) ?? null }));
}

/** Tubes that deserve a look: doubtful, or contradicting what was decided; those in accepted pools are settled. */
export function openDoubts(state: PageState, pools: readonly DecidedPool[]): readonly number[] {
  const accepted = new Set(pools.flatMap((p) => (p.accepted ? p.fractions : [])));
  const contradicted = new Set(state.contradictions.flatMap((c) => c.fraction ?? []));
  return (state.result?.fractions ?? [])
    .filter((f) => contradicted.has(f.number) || (isDoubtful(f) && !accepted.has(f.number)))
    .map((f) => f.number);
}

/** The doubt after the one in hand, from the first again after the last; null where there is none. */
export function nextDoubt(doubts: readonly number[], now: number | null): number | null {
  return doubts.find((n) => now === null || n > now) ?? doubts[0] ?? null;
}

/** True where every pool was said yes to. */
export function allAccepted(pools: readonly DecidedPool[]): boolean {
  return pools.length > 0 && pools.every((p) => p.accepted);
}
