import {
  type BenchEntry,
  PlatepoolError,
  type Recovery,
  type Result,
  type RunProduct,
  type YieldBasis,
} from "../../model/index.ts";
import {
  checkWeighing,
  massInWords,
  parseAmountMmol,
  parseMassG,
  readingLetter,
  recoverMass,
} from "../../planning/index.ts";
import { appendBench } from "../../store/index.ts";
import type { ReadingFlags } from "../reading/options.ts";
import { EXIT, say } from "../terminal/runProgram.ts";
import { print } from "./asked.ts";
import { type Bench, currentResult, openBench } from "./openBench.ts";
import { poolId } from "./plan.ts";
import { type PlanState, planState } from "./planState.ts";
import { keepingRefused, typedText } from "./refused.ts";

export interface WeighFlags extends ReadingFlags {
  readonly pool?: string;
  readonly flask: string;
  readonly tare?: string;
  readonly gross?: string;
  readonly strike?: boolean;
  readonly load?: string;
  readonly component?: string;
  readonly molarMass?: string;
  readonly limiting?: string;
  readonly ratio?: string;
  readonly json?: boolean;
}

/**
 * `platepool weigh FOLDER`: writes weighings down and shows the balance. What cannot be is refused with its reason, and
 * kept in the bench book as refused, so that nothing typed is lost. Returns the exit status.
 */
export async function weigh(folder: string, flags: WeighFlags): Promise<number> {
  const bench = await openBench(folder);
  const { result } = await currentResult(folder, flags);
  const at = new Date().toISOString();
  const { pool, flask, tare, gross, load, component, molarMass, limiting, ratio } = flags;
  const typed = typedText({ pool, flask: pool && flask, tare, gross, load, component, molarMass, limiting, ratio });
  const entries = await keepingRefused(folder, typed, () => entriesOf(flags, result));
  if (entries.length > 0) await appendBench(folder, entries, at);
  const now = entries.length > 0 ? await openBench(folder) : bench;
  const recovery = recoveryOf(now, result, basisOf(now, planState(now, result)));
  for (const f of recovery.findings) say(`${f.message} ${f.remedy}`);
  if (flags.json) process.stdout.write(`${JSON.stringify(recovery, null, 2)}\n`);
  else if (!flags.quiet) print(balanceLines(recovery));
  return EXIT.read;
}

function entriesOf(flags: WeighFlags, result: Result): BenchEntry[] {
  const entries: BenchEntry[] = [];
  if (flags.load !== undefined) {
    const loadMg = parseMassG(flags.load, "the load") * 1000;
    if (!(loadMg > 0)) throw new PlatepoolError("load-not-positive", `the load is ${flags.load}; it must be above 0`);
    entries.push({ kind: "load", loadMg, typed: flags.load });
  }
  const product = productOf(flags);
  if (product) entries.push({ kind: "product", product });
  const { tare, gross } = flags;
  if (flags.pool === undefined) {
    if (tare !== undefined || gross !== undefined || flags.strike)
      throw new PlatepoolError("pool-missing", "which pool is that flask of? Give --pool");
    return entries;
  }
  const pool = poolId(result, flags.pool);
  if (flags.strike) return [...entries, { kind: "strike", pool, flask: flags.flask }];
  if (tare === undefined || gross === undefined)
    throw new PlatepoolError(
      "mass-missing",
      `pool ${pool} needs --tare (the empty flask) and --gross (the full one), each with its unit`,
    );
  const weighing = {
    pool,
    flask: flags.flask,
    tareG: parseMassG(tare, "the tare"),
    grossG: parseMassG(gross, "the gross"),
  };
  checkWeighing(weighing);
  return [...entries, { kind: "weighing", ...weighing, typed: { tare, gross } }];
}

function productOf({ molarMass, limiting, ratio, component }: WeighFlags): RunProduct | null {
  if (molarMass === undefined && limiting === undefined) return null;
  if (molarMass === undefined || limiting === undefined)
    throw new PlatepoolError(
      "yield-incomplete",
      "a yield needs both --molar-mass (g/mol) and --limiting (mmol of the limiting reagent)",
    );
  const mass = Number(molarMass.replace(/\s*g\/mol$/i, "").replace(",", "."));
  const moles = ratio === undefined ? 1 : Number(ratio);
  if (!(mass >= 1 && mass <= 100_000))
    throw new PlatepoolError("molar-mass", `--molar-mass ${molarMass} is no molar mass in g/mol`);
  if (!(moles > 0)) throw new PlatepoolError("limiting-ratio", `--ratio ${ratio} is no number above 0`);
  const limitingMmol = parseAmountMmol(limiting, "the limiting reagent");
  if (!(limitingMmol > 0)) throw new PlatepoolError("limiting-amount", `--limiting ${limiting} must be above 0`);
  return { component: component ?? null, molarMass: mass, limitingMmol, ratio: moles };
}

/**
 * What the yield is reckoned from: typed last, else run.yaml; the wanted component where none is named. A component goes
 * by its name, by the reading's letter where it was typed after it, by the plan's where run.yaml says it.
 */
export function basisOf(bench: Bench, state: PlanState): YieldBasis | null {
  const typed = bench.book.product;
  const product = typed ?? bench.runBench?.product ?? null;
  if (!product) return null;
  const named = Object.entries(state.names).find(([, name]) => name.toLowerCase() === product.component?.toLowerCase());
  const planned = state.plan?.bands.some((b) => b.component === product.component) && !typed ? state.check : null;
  const component = product.component === null ? state.want : (named?.[0] ?? readingLetter(planned, product.component));
  return { component, productMolarMass: product.molarMass, limitingMmol: product.limitingMmol, ratio: product.ratio };
}

export function recoveryOf(bench: Bench, result: Result, basis: YieldBasis | null): Recovery {
  const loadMg = bench.book.loadMg ?? bench.book.plan?.loadMg ?? bench.runBench?.column?.loadMg ?? null;
  return recoverMass(bench.book.weighings, result.pools, loadMg, basis);
}

function balanceLines(r: Recovery): string[] {
  const percent = (value: number | null) => (value === null ? "" : `, ${value.toFixed(0)} %`);
  const pools = r.pools.map((p) => {
    const held = [p.kind ?? "of no reading", p.components.join(" + ")].filter(Boolean).join(" ");
    return `${p.pool}: ${held}, ${p.massMg === null ? "not weighed" : `${massInWords(p.massMg)}${percent(p.recoveryPercent)}${p.flasks > 1 ? ` in ${p.flasks} flasks` : ""}`}`;
  });
  const load = r.loadMg === null ? "load not given (--load)" : `loaded ${massInWords(r.loadMg)}`;
  const missing =
    r.missingMg === null
      ? ""
      : `, ${r.missingMg >= 0 ? `missing ${massInWords(r.missingMg)}` : `${massInWords(-r.missingMg)} more than loaded`}`;
  const lines = [...pools, `${load}, recovered ${massInWords(r.totalMg)}${percent(r.totalPercent)}${missing}`];
  if (r.product)
    lines.push(
      `yield of ${r.product.component}: ${massInWords(r.product.massMg)}, ${r.product.mmol.toFixed(3)} mmol, ${r.product.yieldPercent.toFixed(0)} % of ${massInWords(r.product.theoryMg)}`,
    );
  return lines;
}
