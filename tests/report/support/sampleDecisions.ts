import type { Result, ResultDecidedPool } from "../../../src/model/index.ts";
import { asDecided } from "../../../src/pipeline/index.ts";

/** A pool as somebody has it: its name, its tubes, and whether it was accepted. */
export type Put = readonly [name: string, tubes: readonly number[], accepted?: boolean];

/** The result with a division of its tubes; figures of the pools are those of the suggested pool of the first tube. */
export function dividedAs(result: Result, pools: readonly Put[], undecided: readonly number[] = []): Result {
  return {
    ...result,
    decisions: {
      last: 1,
      mendings: { plates: [], components: [] },
      pools: pools.map(([id, fractions, accepted = false]): ResultDecidedPool => {
        const from = result.pools.find((p) => p.fractions.includes(fractions[0])) ?? result.pools[0];
        return { ...from, id, fractions, accepted, recovery: from.purity, reason: `Divided by hand: ${id}.` };
      }),
      undecided,
      contradictions: [],
    },
  };
}

/** The result as reports take it, and what was suggested. */
export function counted(result: Result): { result: Result; suggested: Result } {
  return { result: asDecided(result), suggested: result };
}

/** All pools of a result as they are suggested, those named changed or left out. */
export function asTheyAre(result: Result, changes: Readonly<Record<string, readonly number[] | null>> = {}): Put[] {
  return result.pools.flatMap((p): Put[] => {
    const tubes = p.id in changes ? changes[p.id] : p.fractions;
    return tubes === null ? [] : [[p.id, tubes]];
  });
}
