import {
  contradictions,
  presentDivision,
  rfInWords,
  tubesInWords,
  undecidedTubes,
  volumesIn,
  writtenOver,
} from "../decisions/index.ts";
import type {
  Contradiction,
  Decisions,
  Interval,
  JudgedPool,
  Result,
  ResultDecidedPool,
  RunFile,
} from "../model/index.ts";
import { judgePool } from "./judgePool.ts";
import { fine, significant } from "./round.ts";

export interface DecidedGrounds {
  readonly run: RunFile | null;
  /** Mendings that this reading has nothing for. */
  readonly unmet: readonly Contradiction[];
}

/**
 * The result with what a person decided beside what is suggested, and with volumes by the tube log as it stands; the same
 * result where nothing was decided and the log says nothing.
 */
export function decidedPools(read: Result, decisions: Decisions, { run, unmet }: DecidedGrounds): Result {
  const volumeOf = volumesOf(run, decisions);
  const suggested = withVolumes(read, volumeOf);
  if (decisions.last === 0) return suggested;
  const { division } = decisions;
  const pools = division && presentDivision(suggested, division);
  return {
    ...suggested,
    decisions: {
      last: decisions.last,
      mendings: { plates: decisions.plates, components: decisions.components },
      pools:
        pools === null
          ? null
          : pools.map(({ name, fractions, accepted }): ResultDecidedPool => {
              const judged = judgePool(suggested, fractions, { volumeOf });
              return {
                ...{ id: name, fractions, kind: judged.kind, components: judged.components },
                purity: rounded(judged.purity),
                recovery: rounded(judged.recovery),
                confidence: fine(judged.confidence),
                volume_ml: judged.volumeMl === null ? null : significant(judged.volumeMl),
                accepted,
                reason: reasonOf(judged, fractions, suggested),
              };
            }),
      undecided: undecidedTubes(suggested, division),
      contradictions: [...contradictions(decisions, suggested), ...unmet],
    },
  };
}

/**
 * An earlier result with the decisions of now, without reading anything anew; null where something was mended, or a
 * mending taken back, since: then the photos must be read again.
 */
export function redecided(earlier: Result, decisions: Decisions, run: RunFile | null): Result | null {
  const { decisions: then, ...suggested } = earlier;
  const now = { plates: decisions.plates, components: decisions.components };
  const before = then?.mendings ?? { plates: [], components: [] };
  if (JSON.stringify(now) !== JSON.stringify(before)) return null;
  const unmet = then?.contradictions.filter((c) => FROM_MENDING.has(c.code)) ?? [];
  return decidedPools(suggested, decisions, { run, unmet });
}

/** Contradictions that only a reading can find. */
const FROM_MENDING = new Set(["mended-spot-gone", "mended-lane-gone", "mended-component-gone"]);

/** The result with the decided pools in the place of the suggested ones, where there are any: what is done at the bench. */
export function asDecided(result: Result): Result {
  const pools = result.decisions?.pools ?? null;
  if (pools === null) return result;
  const known = new Set(result.fractions.map((f) => f.number));
  const home = new Map(pools.flatMap((p) => p.fractions.map((n) => [n, p.id] as const)));
  return {
    ...result,
    pools: pools.map(({ accepted: _, recovery: __, ...pool }) => ({
      ...pool,
      fractions: pool.fractions.filter((n) => known.has(n)),
    })),
    fractions: result.fractions.map((f) => ({ ...f, pool: home.get(f.number) ?? f.pool })),
  };
}

/** Volume of each tube: as a person wrote it into the tube log, else as the run file notes it, else the usual one. */
function volumesOf(run: RunFile | null, { log }: Decisions): (tube: number) => number | null {
  return volumesIn(run?.volumeMl ?? null, writtenOver(run?.bench?.tubes ?? [], log));
}

function withVolumes(result: Result, volumeOf: (tube: number) => number | null): Result {
  const volumes = result.pools.map(({ fractions }) => {
    const each = fractions.map(volumeOf);
    return each.some((v) => v === null) ? null : significant(each.reduce<number>((sum, v) => sum + (v ?? 0), 0));
  });
  if (result.pools.every((p, i) => p.volume_ml === volumes[i])) return result;
  return { ...result, pools: result.pools.map((p, i) => ({ ...p, volume_ml: volumes[i] })) };
}

function rounded({ low, mid, high }: Interval): Interval {
  return { low: fine(low), mid: fine(mid), high: fine(high) };
}

function reasonOf({ kind, components }: JudgedPool, tubes: readonly number[], { components: known }: Result): string {
  const verb = tubes.length === 1 ? "shows" : "show";
  const names = components.map((id) => `${id} (${rfInWords(known.find((c) => c.id === id)?.rf ?? 0)})`);
  const words = tubesInWords(tubes);
  const who = `Divided by hand: ${words} ${verb}`;
  if (kind === "empty") return `${who} no spot.`;
  if (kind === "clean") return `${who} ${names[0] ?? "one component"}; one spot is not proof of purity.`;
  return `${who} ${names.join(", ")} together: keep apart and run again.`;
}
