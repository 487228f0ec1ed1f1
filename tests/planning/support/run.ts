import type {
  ColumnPlan,
  ColumnRequest,
  Result,
  ResultFraction,
  ResultPool,
  TubeLog,
  TubeState,
} from "../../../src/model/index.ts";
import { RESULT_SCHEMA } from "../../../src/model/index.ts";
import { logTubes, planColumn } from "../../../src/planning/index.ts";

/** An invented column of a chalcone preparation; every figure is made up. */
export function chalconeRequest(change: Partial<ColumnRequest> = {}): ColumnRequest {
  return {
    loadMg: 250,
    steps: [{ eluent: "hexane/ethyl acetate 4:1", fromMl: 0, rf: { A: 0.55, B: 0.37, C: 0.2 } }],
    names: { A: "ketone", B: "chalcone", C: "aldol" },
    amounts: { A: 0.2, B: 0.65, C: 0.15 },
    want: "B",
    sorbent: "silica",
    drive: "pressure",
    bedCm: 15,
    diameterMm: null,
    fractionMl: null,
    holdUpMl: null,
    forerunMl: 0,
    rack: null,
    ...change,
  };
}

export interface ResultChanges {
  /** Amount of a component in a tube, from the planned one. */
  readonly amount?: (component: string, tube: number, planned: number) => number;
  readonly seen?: (tube: number) => boolean;
  readonly confidence?: (tube: number) => number;
}

const stateOf = (amounts: readonly number[]): TubeState => {
  const total = amounts.reduce((a, b) => a + b, 0);
  if (total < 0.002) return "empty";
  return Math.max(...amounts) / total >= 0.95 ? "clean" : "mixed";
};

/** A reading that shows just what a plan lets expect, changed as asked; pools are runs of alike tubes. */
export function resultOf(plan: ColumnPlan, changes: ResultChanges = {}): Result {
  const ids = [...plan.bands].map((band) => band.component).sort();
  const rf = plan.request.steps[0].rf;
  const planned = (id: string, tube: number) => {
    const t = plan.tubes[tube - 1];
    return (t.composition[id] ?? 0) * t.amount;
  };
  const amount = (id: string, tube: number) =>
    Math.max(0, changes.amount?.(id, tube, planned(id, tube)) ?? planned(id, tube));
  const numbers = plan.tubes.map((tube) => tube.number);
  const pools: ResultPool[] = [];
  const fractions = numbers.map((number): ResultFraction => {
    const amounts = ids.map((id) => amount(id, number));
    const total = amounts.reduce((a, b) => a + b, 0);
    const state = stateOf(amounts);
    const held = ids.filter((_, i) => amounts[i] / total >= 0.05);
    const components = state === "empty" ? [] : state === "clean" ? [ids[amounts.indexOf(Math.max(...amounts))]] : held;
    const last = pools.at(-1);
    const same = last && last.kind === state && (state !== "clean" || last.components[0] === components[0]);
    if (same)
      pools[pools.length - 1] = {
        ...last,
        fractions: [...last.fractions, number],
        volume_ml: (last.volume_ml ?? 0) + plan.fractionMl,
        components: [...new Set([...last.components, ...components])].sort(),
      };
    else
      pools.push({
        id: `P${pools.length + 1}`,
        fractions: [number],
        kind: state,
        components,
        purity: state === "clean" ? { low: 0.95, mid: 0.98, high: 0.995 } : { low: 0.5, mid: 0.6, high: 0.7 },
        confidence: 0.93,
        volume_ml: plan.fractionMl,
        reason: "invented",
      });
    return {
      number,
      seen: changes.seen?.(number) ?? true,
      composition: state === "empty" ? {} : Object.fromEntries(ids.map((id, i) => [id, amounts[i] / total])),
      state,
      odds: { clean: 0, mixed: 0, empty: 0, [state]: 1 },
      pool: pools[pools.length - 1].id,
      confidence: changes.confidence?.(number) ?? 0.93,
      reason: null,
    };
  });
  return {
    schema: RESULT_SCHEMA,
    run: "chalcone 3",
    photos: [],
    plates: [],
    components: ids.map((id) => {
      const inside = numbers.filter((n) => amount(id, n) > 0.002);
      return { id, rf: rf[id], rf_sd: 0.01, first: inside[0] ?? null, last: inside.at(-1) ?? null, in_reference: true };
    }),
    fractions,
    pools,
    profiles: ids.map((component) => ({
      component,
      fitted: false,
      points: numbers.map((fraction) => {
        const value = amount(component, fraction);
        return {
          fraction,
          amount: value,
          sd: 0.05 * value,
          measured: (changes.seen?.(fraction) ?? true) ? value : null,
        };
      }),
    })),
    policies: [],
    advice: [],
    warnings: [],
  };
}

export interface InventedRun {
  readonly plan: ColumnPlan;
  readonly result: Result;
  readonly log: TubeLog;
}

export function inventedRun(request: Partial<ColumnRequest> = {}, changes: ResultChanges = {}): InventedRun {
  const plan = planColumn(chalconeRequest(request));
  return { plan, result: resultOf(plan, changes), log: logTubes(plan.tubes.length, plan.fractionMl, [], null).value };
}
