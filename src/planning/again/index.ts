import type { ColumnPlan, ColumnRequest, PlanCheck, Result, ResultPool } from "../../model/index.ts";
import { PlatepoolError } from "../../model/index.ts";
import { planColumn } from "../column/index.ts";
import { readingNames } from "../compare/index.ts";
import { retardation, retentionFactor } from "../retention/index.ts";

/** A second column for a mixed pool, and why it is planned that way. */
export interface SecondRun {
  readonly pool: string;
  readonly loadMg: number;
  readonly loadSource: "weighed" | "given" | "estimated";
  readonly plan: ColumnPlan;
  readonly reasons: readonly string[];
}

export interface SecondRunInput {
  readonly result: Result;
  /** Plan and check of the first column, where there are any. */
  readonly first: ColumnPlan | null;
  readonly check: PlanCheck | null;
  /** Mass of the pool in mg: weighed, or typed; null to estimate it from the first load. */
  readonly weighedMg: number | null;
  readonly givenMg: number | null;
  readonly firstLoadMg: number | null;
  /** Under the reading's letter. */
  readonly want: string | null;
}

/** Mixed pool asked for, or the largest of them. Throws `pool-unknown`, `nothing-mixed`. */
export function mixedPool(result: Result, id: string | null): ResultPool {
  if (id !== null) {
    const pool = result.pools.find((p) => p.id.toLowerCase() === id.toLowerCase());
    if (!pool)
      throw new PlatepoolError(
        "pool-unknown",
        `there is no pool "${id}"; the pools are ${result.pools.map((p) => p.id).join(", ")}.`,
      );
    return pool;
  }
  const mixed = result.pools.filter((pool) => pool.kind === "mixed");
  if (mixed.length === 0)
    throw new PlatepoolError("nothing-mixed", "no pool of this run is mixed; nothing has to be run again.");
  return mixed.reduce((a, b) => (amountIn(result, b) > amountIn(result, a) ? b : a));
}

function amountsIn(result: Result, pool: ResultPool): Record<string, number> {
  const inside = new Set(pool.fractions);
  const amounts: Record<string, number> = {};
  for (const profile of result.profiles) {
    const sum = profile.points.reduce((s, point) => s + (inside.has(point.fraction) ? point.amount : 0), 0);
    if (sum > 0) amounts[profile.component] = sum;
  }
  return amounts;
}

function amountIn(result: Result, pool: ResultPool): number {
  return Object.values(amountsIn(result, pool)).reduce((a, b) => a + b, 0);
}

function loadOf(input: SecondRunInput, pool: ResultPool): Pick<SecondRun, "loadMg" | "loadSource"> {
  if (input.givenMg !== null) return { loadMg: input.givenMg, loadSource: "given" };
  if (input.weighedMg !== null) return { loadMg: input.weighedMg, loadSource: "weighed" };
  const all = input.result.profiles.reduce((s, p) => s + p.points.reduce((t, point) => t + point.amount, 0), 0);
  if (input.firstLoadMg === null || all <= 0)
    throw new PlatepoolError(
      "mass-missing",
      `how much is in pool ${pool.id}? Weigh it in, or give the mass with --load.`,
    );
  return { loadMg: (input.firstLoadMg * amountIn(input.result, pool)) / all, loadSource: "estimated" };
}

/** Findings of the comparison after which the k found are no measure of the eluent. */
const UNSOUND: ReadonlySet<string> = new Set([
  "before-hold-up",
  "bed-channelled",
  "tubes-swapped",
  "order-against-plan",
]);

/** Rf on the column as it turned out: k of the plate times the ratio found on the first column. */
function corrected(rf: number, kRatio: number | null): number {
  if (kRatio === null || rf <= 0) return rf;
  return Math.min(0.98, retardation(retentionFactor(rf) * kRatio));
}

/**
 * Plans the second column of a mixed pool from what is now known: which components it holds and in what proportion,
 * what they weigh, and how the first column kept to its plan (their k is corrected by the ratio found there).
 * @throws `mass-missing`, `too-few-components` and the codes of `planColumn`
 */
export function planAgain(pool: ResultPool, input: SecondRunInput): SecondRun {
  const { result, first, check } = input;
  const amounts = amountsIn(result, pool);
  const known = result.components.filter((c) => pool.components.includes(c.id) || amounts[c.id] !== undefined);
  const total = Object.values(amounts).reduce((a, b) => a + b, 0);
  const held = known.filter((c) => pool.components.includes(c.id) || (amounts[c.id] ?? 0) / total > 0.02);
  if (held.length === 0)
    throw new PlatepoolError(
      "too-few-components",
      `pool ${pool.id} holds nothing that the plates show; there is nothing to run again.`,
    );
  const { loadMg, loadSource } = loadOf(input, pool);
  const reasons: string[] = [];
  // Where the hold-up volume or the first tube's drop is wrong, k says nothing of the eluent.
  const sound = check !== null && !check.findings.some((f) => UNSOUND.has(f.code));
  const kRatio = sound ? check.kRatio : null;
  const ratioOf = (id: string) => (sound ? check.bands.find((band) => band.found === id)?.kRatio : null) ?? kRatio;
  const rf = Object.fromEntries(held.map((c) => [c.id, corrected(c.rf, ratioOf(c.id))]));
  if (kRatio && Math.abs(Math.log(kRatio)) > 0.1)
    reasons.push(`Rf corrected by what the first column showed (k ${kRatio.toFixed(2)} times the planned).`);
  if (check && !sound)
    reasons.push("Rf as on the plate: what the first column showed cannot be trusted (see the plan).");
  const request: ColumnRequest = {
    loadMg,
    steps: [{ eluent: first?.request.steps[0].eluent ?? null, fromMl: 0, rf }],
    names: readingNames(check, first?.request.names ?? {}),
    amounts: Object.fromEntries(held.map((c) => [c.id, amounts[c.id] ?? 0])),
    want: input.want !== null && rf[input.want] !== undefined ? input.want : null,
    sorbent: first?.request.sorbent ?? "silica",
    drive: first?.request.drive ?? "pressure",
    bedCm: first?.request.bedCm ?? 15,
    diameterMm: null,
    fractionMl: null,
    holdUpMl: null,
    forerunMl: 0,
    rack: first?.request.rack ?? null,
  };
  const plan = planColumn(request);
  if (loadSource === "estimated") reasons.push("The mass is estimated from the spots; weigh the pool before packing.");
  const values = Object.values(rf);
  const middle = values.reduce((a, b) => a + b, 0) / values.length;
  if (middle > 0.3)
    reasons.push(
      "A weaker eluent is worth a plate first: the same difference of Rf lower on the plate separates better.",
    );
  if ((plan.decisiveDeltaRf ?? 1) < 0.1)
    reasons.push("The pair is too close for this eluent; look for another pair of solvents before packing.");
  if (first && plan.diameterMm < first.diameterMm)
    reasons.push(`Less to separate: ${plan.diameterMm} mm will do instead of ${first.diameterMm} mm.`);
  return { pool: pool.id, loadMg, loadSource, plan, reasons };
}
