import type { ColumnPlan, EluentRanking, Recovery, Result, TubeLog, Weighing } from "../../model/index.ts";
import { type Cell, csvTable, figure } from "../csv.ts";

/** Every spot of every lane. Rf, positions and widths as fractions, amounts relative. */
export function spotsCsv(result: Result): string {
  const header = [
    "plate",
    "lane",
    "label",
    "tube",
    "component",
    "Rf",
    "Rf sd",
    "width Rf",
    "tailing",
    "amount",
    "amount sd",
    "confidence",
    "lights",
    "flags",
  ];
  const rows = result.plates.flatMap((plate) =>
    plate.lanes.flatMap((lane) =>
      lane.spots.map((s): Cell[] => [
        plate.id,
        lane.index,
        lane.label,
        lane.fraction,
        s.component,
        figure(s.rf),
        figure(s.rf_sd),
        figure(s.width_rf),
        figure(s.tailing),
        figure(s.amount),
        figure(s.amount_sd),
        figure(s.confidence),
        s.lights.join(" "),
        s.flags.join(" "),
      ]),
    ),
  );
  return csvTable([header, ...rows]);
}

/** One row per tube: volume, eluent and notes of the log. */
export function tubesCsv(log: TubeLog): string {
  const header = ["tube", "volume mL", "assumed", "from mL", "to mL", "eluent", "flask", "notes"];
  return csvTable([
    header,
    ...log.tubes.map((t): Cell[] => [
      t.number,
      figure(t.volumeMl),
      t.assumed ? "yes" : "no",
      figure(t.startMl),
      figure(t.endMl),
      t.eluent,
      t.flask,
      t.notes.join("; "),
    ]),
  ]);
}

/** One row per component of the plan; mL, Rf in the eluent it leaves in. */
export function planCsv(plan: ColumnPlan): string {
  const header = [
    "component",
    "name",
    "Rf",
    "eluent",
    "off at mL",
    "sd mL",
    "column volumes",
    "first tube",
    "last tube",
    "collected",
  ];
  return csvTable([
    header,
    ...plan.bands.map((b): Cell[] => [
      b.component,
      b.name,
      figure(plan.request.steps[b.step].rf[b.component]),
      plan.request.steps[b.step].eluent,
      figure(b.retentionMl),
      figure(b.sdMl),
      figure(b.columnVolumes),
      b.firstTube,
      b.lastTube,
      b.collected ? "yes" : "no",
    ]),
  ]);
}

/** One row per flask weighed, then one per pool and one for all. Flasks in g, pools in mg. */
export function recoveryCsv(recovery: Recovery, weighings: readonly Weighing[]): string {
  const header = ["what", "pool", "flask", "tare g", "gross g", "mass mg", "% of load"];
  const flasks = weighings.map((w): Cell[] => [
    "flask",
    w.pool,
    w.flask,
    w.tareG,
    w.grossG,
    figure((w.grossG - w.tareG) * 1000),
    null,
  ]);
  const pools = recovery.pools.map((p): Cell[] => [
    "pool",
    p.pool,
    null,
    null,
    null,
    figure(p.massMg),
    figure(p.recoveryPercent),
  ]);
  const all: Cell[] = ["all", null, null, null, null, figure(recovery.totalMg), figure(recovery.totalPercent)];
  const missing: Cell[] = [
    "missing",
    null,
    null,
    null,
    null,
    figure(recovery.missingMg),
    figure(recovery.missingPercent),
  ];
  return csvTable([header, ...flasks, ...pools, all, missing]);
}

/** One row per component and eluent of the scouting plates. */
export function eluentsCsv(ranking: EluentRanking): string {
  const header = [
    "rank",
    "eluent",
    "component",
    "name",
    "Rf",
    "tailing",
    "share",
    "column volumes",
    "closest pair",
    "pair Rf apart",
    "pair resolution",
    "pair column volumes apart",
    "workable",
    "reason",
  ];
  const rows = ranking.trials.flatMap((t) => {
    const pair = t.wantedPair ?? t.closest;
    return t.spots.map((s): Cell[] => [
      t.rank,
      t.eluent.text,
      s.component,
      ranking.components.find((c) => c.id === s.component)?.name ?? null,
      figure(s.rf),
      figure(s.tailing),
      figure(s.share),
      figure(s.columnVolumes),
      pair && `${pair.fast} and ${pair.slow}`,
      figure(pair?.deltaRf ?? null),
      figure(pair?.resolution ?? null),
      figure(pair?.columnVolumes ?? null),
      t.workable ? "yes" : "no",
      t.reason,
    ]);
  });
  return csvTable([header, ...rows]);
}
