import type {
  BenchSheet,
  Finding,
  FlaskPlan,
  RackLayout,
  Result,
  ResultPool,
  SheetPool,
  StageResult,
  TubeLog,
} from "../../model/index.ts";
import { PlatepoolError } from "../../model/index.ts";
import type { SecondRun } from "../again/index.ts";
import { checkRack } from "../column/index.ts";
import { massInWords } from "../quantity/index.ts";
import { usualRack } from "../rack/index.ts";
import { chooseFlask, USUAL_LARGEST_ML } from "./flask.ts";

export interface SheetInput {
  readonly result: Result;
  readonly log: StageResult<TubeLog>;
  readonly rack: RackLayout | null;
  /** Racks at hand; null: as many as it takes. */
  readonly racks: number | null;
  readonly largestFlaskMl: number | null;
  /** Plans for the mixed pools, as far as there are any. */
  readonly again: readonly SecondRun[];
}

const CAUTIONS: readonly string[] = [
  "Solvents: fume hood, no flames, gloves; ethers may hold peroxides.",
  "Evaporation: trap and bump guard; never to dryness with ethers; never heat closed glass.",
  "Pressurised glass: only checked columns, behind a shield, with a relief.",
  "Dry silica and alumina: mask or hood. Stains: permanganate oxidises, acids burn.",
  "UV lamp: shield and goggles. Waste: halogenated and not, apart.",
  "Local rules and whoever supervises the work come first.",
];

function actionOf(pool: ResultPool, flask: FlaskPlan | null): string {
  if (pool.kind === "empty") return "Keep until the spectra are in, then to waste.";
  const half = flask && flask.portions > 1 ? ` in ${flask.portions} portions` : "";
  const dry = `Filter through a fritted funnel first, evaporate${half}, weigh`;
  return pool.kind === "clean" ? `${dry}, take spectra.` : `${dry}, run again.`;
}

function sheetPool(pool: ResultPool, log: TubeLog, largestMl: number): SheetPool {
  const tubes = pool.fractions.map((n) => log.tubes[n - 1]).filter((tube) => tube !== undefined);
  const volumeMl = tubes.reduce((sum, tube) => sum + tube.volumeMl, 0);
  const flask = pool.kind === "empty" || volumeMl <= 0 ? null : chooseFlask(volumeMl, largestMl);
  return {
    id: pool.id,
    kind: pool.kind,
    components: pool.components,
    tubes: pool.fractions,
    volumeMl,
    volumeAssumed: tubes.some((tube) => tube.assumed),
    flask,
    purity: pool.kind === "empty" ? null : pool.purity,
    confidence: pool.confidence,
    action: actionOf(pool, flask),
  };
}

function runAgainLines({ result, again }: SheetInput): string[] {
  const mixed = result.pools.filter((pool) => pool.kind === "mixed");
  const planned = mixed.flatMap((pool) => again.find((a) => a.pool === pool.id) ?? []);
  const unplanned = mixed.filter((pool) => again.every((a) => a.pool !== pool.id));
  const nameOf = (id: string) => `${id} (${mixed.find((p) => p.id === id)?.components.join(" + ")})`;
  const doubtful = result.fractions.filter((f) => f.confidence < 0.8 && f.pool !== null).map((f) => f.number);
  return [
    ...(doubtful.length > 0
      ? [`Spot ${named("tube", doubtful)} again beside a sure neighbour before pooling: doubtful.`]
      : []),
    ...planned.map((run) => `Pool ${nameOf(run.pool)}, ${secondColumn(run)}`),
    ...remarks(planned),
    ...(unplanned.length > 0
      ? [
          `${named(
            "Pool",
            unplanned.map((p) => nameOf(p.id)),
          )}: weigh ${unplanned.length === 1 ? "it" : "each"}, then plan its column (platepool plan FOLDER --again ${unplanned.length === 1 ? unplanned[0].id : "POOL"}).`,
        ]
      : []),
  ];
}

function secondColumn({ plan, loadMg, loadSource }: SecondRun): string {
  const about = loadSource === "estimated" ? "about " : "";
  return `${about}${massInWords(loadMg)}: column ${plan.diameterMm} mm, ${plan.sorbentG.toFixed(0)} g ${plan.request.sorbent}, fractions of ${plan.fractionMl} mL.`;
}

/** What is said of the eluent of second columns, once for all pools that it holds for. */
function remarks(planned: readonly SecondRun[]): string[] {
  const pools = new Map<string, string[]>();
  for (const { pool, reasons } of planned) {
    const remark = reasons.find((reason) => /eluent/.test(reason));
    if (remark !== undefined) pools.set(remark, [...(pools.get(remark) ?? []), pool]);
  }
  return [...pools].map(
    ([remark, ids]) => `${named("Pool", ids)}: ${remark.charAt(0).toLowerCase()}${remark.slice(1)}`,
  );
}

/** "tube 7", "tubes 7, 9". */
function named(noun: string, items: readonly (string | number)[]): string {
  return `${noun}${items.length === 1 ? "" : "s"} ${items.join(", ")}`;
}

function keepLines(result: Result): string[] {
  const empty = result.pools.filter((pool) => pool.kind === "empty").flatMap((pool) => pool.fractions);
  return [
    "A drop of each pool and every mixed tube until the spectra of all pools are in and the balance is closed.",
    ...(empty.length > 0 ? ["The empty tubes as well: not every substance shows on these plates."] : []),
    "The column, wet, until the wanted mass is found.",
  ];
}

/**
 * The bench sheet: pools with volumes, flasks at most half full and what to do; what to run again, what to keep.
 * @throws `rack-impossible`, `rack-too-small` where the tubes outnumber the places of the racks at hand
 */
export function buildSheet(input: SheetInput): BenchSheet {
  const { result, log } = input;
  const tubeCount = log.value.tubes.length;
  const rack = input.rack ?? usualRack(tubeCount);
  checkRack(rack);
  const room = rack.rows * rack.columns;
  const racks = Math.ceil(tubeCount / room);
  if (input.racks !== null && racks > input.racks)
    throw new PlatepoolError(
      "rack-too-small",
      `${tubeCount} tubes do not fit ${input.racks === 1 ? "the rack" : `${input.racks} racks`} of ${rack.rows} x ${rack.columns}. Are rows and columns right, or are there ${racks} racks?`,
    );
  const findings: Finding[] = [...log.findings];
  const largest = input.largestFlaskMl ?? USUAL_LARGEST_ML;
  const pools = result.pools.map((pool) => sheetPool(pool, log.value, largest));
  const clean = pools.filter((pool) => pool.kind === "clean");
  return {
    run: result.run,
    rack,
    racks,
    rackAssumed: input.rack === null,
    tubeCount,
    pools,
    runAgain: runAgainLines(input),
    keep: keepLines(result),
    notes: [
      ...log.value.tubes.flatMap((tube) => tube.notes.map((note) => `Tube ${tube.number}: ${note}`)),
      ...log.value.changes.map((change) => `From tube ${change.tube} on: ${change.eluent}`),
      ...(clean.length > 0
        ? ["Clean means one spot under the lights and stains used; one spot is never proof of purity."]
        : []),
    ],
    cautions: CAUTIONS,
    findings,
  };
}
