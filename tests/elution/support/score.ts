import type { ElutionReading } from "../../../src/model/index.ts";
import { adjustedRand } from "./agreement.ts";
import type { Judged } from "./calibrationError.ts";
import type { SimRun, SimTube } from "./simulate.ts";

/** Counts of one run, to be summed over runs. */
export interface RunScore {
  readonly tubes: number;
  readonly stateRight: number;
  readonly mixed: number;
  readonly mixedInClean: number;
  readonly clean: number;
  readonly cleanLost: number;
  readonly pairsBoth: number;
  readonly pairsTruth: number;
  readonly pairsRead: number;
  readonly rand: number;
  readonly advised: number;
  readonly advisedWell: number;
  readonly judged: readonly (Judged & { readonly number: number; readonly seen: boolean })[];
}

/** Judges a reading against the truth of its run, as the result contract says; on all tubes or on spotted ones only. */
export function scoreRun(run: SimRun, reading: ElutionReading, spottedOnly = false): RunScore {
  const name = componentNames(run, reading);
  const poolOf = new Map(reading.pools.flatMap((p) => p.fractions.map((n) => [n, p] as const)));
  let tubes = 0;
  let stateRight = 0;
  let mixed = 0;
  let mixedInClean = 0;
  let clean = 0;
  let cleanLost = 0;
  const judged: { confidence: number; right: boolean; number: number; seen: boolean }[] = [];
  const wrong = new Set<number>();
  for (const truth of run.tubes) {
    if (!counts(truth, spottedOnly)) continue;
    const verdict = reading.fractions[truth.number - 1];
    const pool = poolOf.get(truth.number);
    const right = verdict.state === truth.state;
    tubes++;
    if (right) stateRight++;
    if (truth.state === "mixed") {
      mixed++;
      if (pool?.kind === "clean") mixedInClean++;
    }
    if (truth.state === "clean") {
      clean++;
      if (pool?.kind === "empty") cleanLost++;
    }
    const placed =
      pool?.kind === truth.state && (truth.state !== "clean" || name.get(pool.components[0]) === truth.main);
    if (!placed || !right) wrong.add(truth.number);
    judged.push({ confidence: verdict.confidence, right: placed, number: truth.number, seen: truth.seen });
  }
  const pairs = poolPairs(run, poolOf, spottedOnly);
  const advised = reading.advice.filter((a) => a.code.startsWith("spot-")).flatMap((a) => a.fractions);
  const uncertain = (n: number) =>
    wrong.has(n) || !run.tubes[n - 1].judged || reading.fractions[n - 1].confidence < 0.8;
  return {
    tubes,
    stateRight,
    mixed,
    mixedInClean,
    clean,
    cleanLost,
    ...pairs,
    rand: componentAgreement(run, reading),
    advised: advised.length,
    advisedWell: advised.filter(uncertain).length,
    judged,
  };
}

function counts(tube: SimTube, spottedOnly: boolean): boolean {
  return tube.judged && (tube.seen || !spottedOnly);
}

function truthKey(t: SimTube): string {
  return t.state === "clean" ? `clean ${t.main}` : t.state;
}

/** Pairs of judged tubes that share a pool, in truth (runs of one state), in the reading, and in both. */
function poolPairs(run: SimRun, poolOf: ReadonlyMap<number, { readonly id: string }>, spottedOnly: boolean) {
  let id = 0;
  let last = "";
  const truth = run.tubes.map((t) => {
    // A tube that is not judged neither makes nor breaks a pool.
    if (t.judged && truthKey(t) !== last) {
      id++;
      last = truthKey(t);
    }
    return id;
  });
  const judged = run.tubes.filter((t) => counts(t, spottedOnly)).map((t) => t.number);
  let pairsBoth = 0;
  let pairsTruth = 0;
  let pairsRead = 0;
  judged.forEach((a, i) => {
    for (const b of judged.slice(i + 1)) {
      const inTruth = truth[a - 1] === truth[b - 1];
      const inRead = poolOf.get(a)?.id === poolOf.get(b)?.id;
      if (inTruth) pairsTruth++;
      if (inRead) pairsRead++;
      if (inTruth && inRead) pairsBoth++;
    }
  });
  return { pairsBoth, pairsTruth, pairsRead };
}

function labelled(run: SimRun, reading: ElutionReading) {
  return reading.assignments.flatMap((a, i) => {
    const parts = run.origin.get(`${a.plate}/${a.lane}/${a.spot}`) ?? [];
    return parts.length === 1 ? [{ read: a.component ?? `none ${i}`, truth: parts[0] }] : [];
  });
}

/** Adjusted Rand index of the components of real, single spots. */
export function componentAgreement(run: SimRun, reading: ElutionReading): number {
  const spots = labelled(run, reading);
  return spots.length < 2
    ? 1
    : adjustedRand(
        spots.map((s) => s.read),
        spots.map((s) => s.truth),
      );
}

/** The true substance that most spots of each component are. */
function componentNames(run: SimRun, reading: ElutionReading): Map<string, number> {
  const counts = new Map<string, Map<number, number>>();
  for (const { read, truth } of labelled(run, reading)) {
    const own = counts.get(read) ?? new Map<number, number>();
    own.set(truth, (own.get(truth) ?? 0) + 1);
    counts.set(read, own);
  }
  return new Map([...counts].map(([id, own]) => [id, [...own].sort((a, b) => b[1] - a[1])[0][0]]));
}

/** Figures of a level from the scores of its runs. */
export function summarise(scores: readonly RunScore[]) {
  const sum = (f: (s: RunScore) => number) => scores.reduce((t, s) => t + f(s), 0);
  const both = sum((s) => s.pairsBoth);
  return {
    state: sum((s) => s.stateRight) / sum((s) => s.tubes),
    rand: sum((s) => s.rand) / scores.length,
    poolF1: (2 * both) / (sum((s) => s.pairsTruth) + sum((s) => s.pairsRead)),
    mixedInClean:
      sum((s) => s.mixedInClean) /
      Math.max(
        1,
        sum((s) => s.mixed),
      ),
    cleanLost:
      sum((s) => s.cleanLost) /
      Math.max(
        1,
        sum((s) => s.clean),
      ),
    advisedWell:
      sum((s) => s.advisedWell) /
      Math.max(
        1,
        sum((s) => s.advised),
      ),
    advised: sum((s) => s.advised),
    judged: scores.flatMap((s) => s.judged),
  };
}
