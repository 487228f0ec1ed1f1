import type { ColumnPlan, PlanCheck, Recovery, Result, ResultPool, TubeLog, YieldBasis } from "../../model/index.ts";
import { intervalInWords, listed, numberRanges, percent, rfInWords, tubesInWords } from "../words.ts";

/** All that a write-up can speak of; what is null is left out. */
export interface WriteUpInput {
  readonly result: Result;
  readonly log: TubeLog | null;
  readonly plan: ColumnPlan | null;
  readonly check: PlanCheck | null;
  readonly recovery: Recovery | null;
  readonly basis: YieldBasis | null;
  /** Names of components, by id. */
  readonly names: Readonly<Record<string, string>>;
  /** Version of the program. */
  readonly version: string | null;
}

export interface WriteUpText {
  readonly title: string;
  /** Sentences in order: the column, the plates, the pools, the balance, the reservations. */
  readonly paragraphs: readonly string[];
}

/** A mass in mg as a notebook gives it. */
export function massWords(mg: number): string {
  const size = Math.abs(mg);
  if (size >= 1000) return `${(mg / 1000).toFixed(3)} g`;
  return `${size >= 100 ? mg.toFixed(0) : mg.toFixed(1)} mg`;
}

const named = (input: WriteUpInput, id: string) => (input.names[id] ? `${input.names[id]} (${id})` : id);
const whole = (ml: number) => `${Number(ml.toFixed(0))} mL`;

function eluentWords({ log, plan }: WriteUpInput): string {
  const first = log?.tubes[0]?.eluent ?? plan?.request.steps[0].eluent ?? null;
  const changes = log?.changes ?? [];
  if (changes.length > 0)
    return ` with ${first ? `${first}, then ` : ""}${listed(changes.map((c) => `${c.eluent} from tube ${c.tube} on`))}`;
  const later = plan?.eluents.slice(1) ?? [];
  const planned = later.map((e) => `${e.eluent ?? "the next eluent"} (planned from ${whole(e.fromMl)})`);
  return first ? ` with ${listed([first, ...planned])}` : "";
}

function columnSentence(input: WriteUpInput): string {
  const { plan, log, result, recovery } = input;
  const loadMg = recovery?.loadMg ?? plan?.request.loadMg ?? null;
  const what = `${loadMg === null ? "The crude product" : `The crude product (${massWords(loadMg)})`} was chromatographed`;
  const bed = plan
    ? ` on ${plan.request.sorbent} (${plan.sorbentG.toFixed(0)} g, ${plan.particles}; ${plan.diameterMm.toFixed(0)} mm × ${plan.request.bedCm.toFixed(0)} cm)`
    : "";
  const drive = plan ? (plan.request.drive === "pressure" ? " under gas pressure" : " under gravity") : "";
  const tubes = log?.tubes.length ?? result.fractions.length;
  const volumes = log ? [...new Set(log.tubes.map((t) => t.volumeMl))] : [];
  const each = volumes.length === 1 ? ` of ${Number(volumes[0].toFixed(1))} mL` : "";
  const total = log ? `, ${whole(log.totalMl)} in all` : "";
  return `${what}${bed}${eluentWords(input)}${drive}; ${tubes} tubes${each} were collected${total}.`;
}

function plateSentence(input: WriteUpInput): string {
  const { result } = input;
  const read = result.photos.filter((p) => p.status === "read");
  const lights = [
    ...new Set(
      read.map((p) =>
        p.light === "uv254" ? "254 nm" : p.light === "uv365" ? "365 nm" : "white light or after staining",
      ),
    ),
  ];
  const on = `TLC on ${result.plates.length} ${result.plates.length === 1 ? "plate" : "plates"}${lights.length > 0 ? ` (${lights.join(", ")})` : ""}`;
  if (result.components.length === 0) return `${on} showed no spot.`;
  const spots = result.components.map((c) => {
    const tubes =
      c.first === null || c.last === null
        ? "in the crude alone"
        : tubesInWords(c.first === c.last ? [c.first] : range(c.first, c.last));
    return `${named(input, c.id)} at Rf ${rfInWords(c.rf)} (${tubes})`;
  });
  return `${on} showed ${listed(spots)}.`;
}

const range = (a: number, b: number) => Array.from({ length: b - a + 1 }, (_, i) => a + i);

function volumeOf(pool: ResultPool, log: TubeLog | null): number | null {
  if (!log) return pool.volume_ml;
  return pool.fractions.reduce((sum, n) => sum + (log.tubes[n - 1]?.volumeMl ?? 0), 0);
}

function poolSentence(input: WriteUpInput, pool: ResultPool): string {
  const { recovery, log } = input;
  const mass = recovery?.pools.find((p) => p.pool === pool.id);
  const volume = volumeOf(pool, log);
  const facts = [volume === null ? "" : whole(volume)];
  if (mass?.massMg != null)
    facts.push(
      `${massWords(mass.massMg)}${mass.recoveryPercent === null ? "" : `, ${mass.recoveryPercent.toFixed(0)} % of the load`}`,
    );
  const tubes = numberRanges(pool.fractions);
  const one = pool.fractions.length === 1;
  if (pool.kind === "empty") return `Tube${one ? "" : "s"} ${tubes} showed nothing (pool ${pool.id}).`;
  facts.push(
    pool.kind === "clean"
      ? `${intervalInWords(pool.purity)} ${pool.components[0]} of all that the plates show`
      : `mostly ${pool.components[0]}, ${intervalInWords(pool.purity)}`,
  );
  facts.push(`${percent(pool.confidence)} sure of the pooling`);
  const held = listed(pool.components.map((id) => named(input, id)));
  const verb =
    pool.kind === "clean" ? `gave ${held}` : `held ${held} mixed and go${one ? "es" : ""} on to a second column`;
  return `Tube${one ? "" : "s"} ${tubes} (pool ${pool.id}) ${verb}: ${facts.filter(Boolean).join("; ")}.`;
}

function balanceSentences(input: WriteUpInput): string[] {
  const { recovery, basis } = input;
  if (!recovery || recovery.pools.every((p) => p.massMg === null)) return [];
  const open = recovery.pools.filter((p) => p.massMg === null && p.kind !== "empty").map((p) => p.pool);
  const lines = [
    recovery.loadMg === null
      ? `In all ${massWords(recovery.totalMg)} came off.`
      : `In all ${massWords(recovery.totalMg)} of ${massWords(recovery.loadMg)} came off (${recovery.totalPercent?.toFixed(0)} %); ${(recovery.missingMg ?? 0) >= 0 ? `${massWords(recovery.missingMg ?? 0)} (${recovery.missingPercent?.toFixed(0)} %) are missing` : `${massWords(-(recovery.missingMg ?? 0))} more than was loaded`}.`,
  ];
  if (open.length > 0) lines.push(`Not weighed: pool ${listed(open)}.`);
  const product = recovery.product;
  if (product && basis)
    lines.push(
      `Yield of ${named(input, product.component)}: ${massWords(product.massMg)}, ${product.mmol.toFixed(3)} mmol, ${product.yieldPercent.toFixed(0)} % of theory (${massWords(product.theoryMg)} from ${basis.limitingMmol} mmol, ${basis.productMolarMass} g/mol); ${product.yieldInterval.low.toFixed(0)} to ${product.yieldInterval.high.toFixed(0)} % by the purity that the plates show.`,
    );
  return lines;
}

/** Whose pools they are. */
function poolsBy({ result, version }: WriteUpInput): string {
  const program = `platepool${version ? ` ${version}` : ""}`;
  const decided = result.decisions?.pools ?? null;
  if (decided === null) return `Pools suggested by ${program} from photos of the plates.`;
  const yes = decided.filter((p) => p.accepted).length;
  const accepted = yes === decided.length ? "all accepted" : `${yes} of ${decided.length} accepted`;
  return `Pools divided by hand, ${accepted}; what they hold read by ${program} from photos of the plates.`;
}

/** The paragraph for the notebook: what was done, what the plates showed, which tubes were combined, what they weighed. */
export function writeUpText(input: WriteUpInput): WriteUpText {
  const { result, check } = input;
  const rejected = result.photos.filter((p) => p.status === "rejected").map((p) => p.file);
  const paragraphs = [
    columnSentence(input),
    plateSentence(input),
    ...(check ? [`Against the plan: ${check.summary}`] : []),
    ...result.pools.map((pool) => poolSentence(input, pool)),
    ...balanceSentences(input),
    ...(input.recovery?.findings ?? []).filter((f) => /above/.test(f.code)).map((f) => f.message),
    ...(rejected.length > 0 ? [`Not read: ${listed(rejected)}.`] : []),
    `${poolsBy(input)} One spot is never proof of purity; equal Rf is not proof of the same substance.`,
  ];
  return { title: result.run ? `Column chromatography: ${result.run}` : "Column chromatography", paragraphs };
}
