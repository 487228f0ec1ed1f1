import type { Result } from "../../../src/model/index.ts";
import type { RunTruth, TubeTruth } from "../../../src/render/index.ts";
import type { Forecast } from "./calibration.ts";
import type { SpotPair } from "./spots.ts";

/** Which true substance a read component mostly stands for, by its matched spots. */
export function componentMeanings(pairs: readonly SpotPair[]): Map<string, string> {
  const votes = new Map<string, Map<string, number>>();
  for (const { truth, read } of pairs) {
    if (!read.component || !truth.component) continue;
    const of = votes.get(read.component) ?? new Map<string, number>();
    of.set(truth.component, (of.get(truth.component) ?? 0) + 1);
    votes.set(read.component, of);
  }
  return new Map([...votes].map(([id, of]) => [id, [...of].sort((a, b) => b[1] - a[1])[0][0]]));
}

export function mainOf(composition: Readonly<Record<string, number>>): string | null {
  return Object.entries(composition).sort((a, b) => b[1] - a[1])[0]?.[0] ?? null;
}

export interface TubeScore {
  readonly truth: TubeTruth;
  readonly stateRight: boolean;
  /** Truly mixed, but suggested for a clean pool. */
  readonly mixedInClean: boolean;
  /** Truly clean, but given up as empty. */
  readonly thrownAway: boolean;
  readonly forecast: Forecast;
}

/** Scores the tubes that a lane carries and that are not too close to call. */
export function scoreTubes(truth: RunTruth, result: Result, pairs: readonly SpotPair[]): TubeScore[] {
  const means = componentMeanings(pairs);
  return truth.fractions
    .filter((tube) => tube.seen && tube.judged)
    .map((tube) => {
      const read = result.fractions.find((f) => f.number === tube.number);
      const pool = result.pools.find((p) => p.fractions.includes(tube.number));
      const kind = pool?.kind ?? read?.state ?? "empty";
      const main = read ? mainOf(read.composition) : null;
      const same = tube.state !== "clean" || (main !== null && means.get(main) === mainOf(tube.composition));
      return {
        truth: tube,
        stateRight: read?.state === tube.state,
        mixedInClean: tube.state === "mixed" && kind === "clean",
        thrownAway: tube.state === "clean" && (kind === "empty" || read?.state === "empty"),
        forecast: { confidence: read?.confidence ?? 0, right: kind === tube.state && same },
      };
    });
}

/** Pool of each judged tube, true and read, as labels to be paired. */
export function poolLabels(truth: RunTruth, result: Result): { truth: string[]; read: (string | null)[] } {
  const judged = truth.fractions.filter((tube) => tube.seen && tube.judged).map((tube) => tube.number);
  return {
    truth: judged.map((n) => String(truth.pools.findIndex((p) => p.fractions.includes(n)))),
    read: judged.map((n) => result.pools.find((p) => p.fractions.includes(n))?.id ?? null),
  };
}
