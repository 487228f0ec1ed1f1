import type { DecidedPool, JudgedPool } from "../../../model/index.ts";
import { judgePool } from "../../../pipeline/judgePool.ts";
import type { PageState } from "../../api.ts";

/** What a pool would be by the plates: its kind, purity, recovery, volume. */
export type Figures = (pool: Pick<DecidedPool, "fractions">) => JudgedPool;

/** Judges pools of the reading at hand, with the pipeline's own code; the same tubes are judged once. */
export function figuresOf({ result, volumesMl }: Pick<PageState, "result" | "volumesMl">): Figures {
  const known = new Map<string, JudgedPool>();
  const read = result ?? { fractions: [], pools: [], profiles: [], components: [] };
  const volumes = new Map(read.fractions.map((f, i) => [f.number, volumesMl[i] ?? null]));
  const volumeOf = (tube: number) => volumes.get(tube) ?? null;
  return ({ fractions }) => {
    const key = fractions.join();
    const judged = known.get(key) ?? judgePool(read, fractions, { volumeOf });
    known.set(key, judged);
    return judged;
  };
}
