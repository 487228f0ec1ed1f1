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

function runAgainLines(input: SheetInput): string[] {
  const { result } = input;
  const lines = result.pools
    .filter((pool) => pool.kind === "mixed")
    .map((pool) => {
      const run = input.again.find((a) => a.pool === pool.id);
      const what = `Pool ${pool.id} (${pool.components.join(" + ")})`;
      if (!run) return `${what}: weigh it, then plan its column (platepool plan FOLDER --again ${pool.id}).`;
      const { plan } = run;
      const about = run.loadSource === "estimated" ? "about " : "";
      const why = run.reasons.find((reason) => /eluent/.test(reason));
      return `${what}, ${about}${massInWords(run.loadMg)}: column ${plan.diameterMm} mm, ${plan.sorbentG.toFixed(0)} g ${plan.request.sorbent}, fractions of ${plan.fractionMl} mL.${why ? ` ${why}` : ""}`;
    });
  const doubtful = result.fractions.filter((f) => f.confidence < 0.8 && f.pool !== null).map((f) => f.number);
  if (doubtful.length > 0)
    lines.unshift(
      `Spot ${doubtful.length === 1 ? "tube" : "tubes"} ${doubtful.join(", ")} again beside a sure neighbour before pooling: doubtful.`,
    );
  return lines;
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
