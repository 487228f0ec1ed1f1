import type { Finding, Interval, PoolRecovery, Recovery, TubeState, Weighing, YieldBasis } from "../../model/index.ts";
import { PlatepoolError } from "../../model/index.ts";
import { massInWords } from "../quantity/index.ts";

/** Above this a recovery asks whether units were mixed up, %. Common practice, no source. */
const TOO_MUCH = 105;
/** Heaviest flask taken for one, g. */
const HEAVIEST_G = 5000;

/** A pool as far as recovery needs it. */
export interface WeighedPool {
  readonly id: string;
  readonly kind: TubeState;
  readonly components: readonly string[];
  /** Share of the main component, 0..1. */
  readonly purity: Interval;
}

/**
 * Throws `mass-negative`, `tare-above-gross` or `mass-too-large` for a weighing that cannot be; masses in g. The message
 * repeats what was typed.
 */
export function checkWeighing(weighing: Weighing): void {
  const { pool, tareG, grossG } = weighing;
  for (const [what, value] of [
    ["tare", tareG],
    ["gross", grossG],
  ] as const) {
    if (!Number.isFinite(value) || value < 0)
      throw new PlatepoolError(
        "mass-negative",
        `the ${what} of pool ${pool} is ${value} g; a mass cannot be negative. Weigh or type it again.`,
      );
    if (value > HEAVIEST_G)
      throw new PlatepoolError("mass-too-large", `the ${what} of pool ${pool} is ${value} g; was mg typed as g?`);
  }
  if (tareG > grossG)
    throw new PlatepoolError(
      "tare-above-gross",
      `pool ${pool}: the empty flask (${tareG} g) outweighs the full one (${grossG} g). Are tare and gross exchanged, or of two flasks?`,
    );
}

const percentOf = (mg: number, loadMg: number | null) => (loadMg === null ? null : (100 * mg) / loadMg);

function poolRecovery(
  pool: WeighedPool | null,
  id: string,
  weighings: readonly Weighing[],
  loadMg: number | null,
): PoolRecovery {
  const own = weighings.filter((w) => w.pool === id);
  const massMg = own.length > 0 ? own.reduce((sum, w) => sum + (w.grossG - w.tareG) * 1000, 0) : null;
  return {
    pool: id,
    kind: pool?.kind ?? null,
    components: pool?.components ?? [],
    massMg,
    flasks: own.length,
    recoveryPercent: massMg === null ? null : percentOf(massMg, loadMg),
  };
}

function checkBasis(basis: YieldBasis): void {
  if (!(basis.productMolarMass >= 1 && basis.productMolarMass <= 100_000))
    throw new PlatepoolError(
      "molar-mass",
      `the molar mass of the product is ${basis.productMolarMass} g/mol; give it again.`,
    );
  if (!(basis.limitingMmol > 0 && Number.isFinite(basis.limitingMmol)))
    throw new PlatepoolError(
      "limiting-amount",
      `the amount of the limiting reagent is ${basis.limitingMmol} mmol; it must be above 0.`,
    );
  if (!(basis.ratio > 0 && Number.isFinite(basis.ratio)))
    throw new PlatepoolError(
      "limiting-ratio",
      `${basis.ratio} moles of product per mole of reagent cannot be; give a number above 0.`,
    );
}

function productOf(
  basis: YieldBasis | null,
  pools: readonly PoolRecovery[],
  facts: readonly WeighedPool[],
): Recovery["product"] {
  if (basis === null) return null;
  checkBasis(basis);
  const { component } = basis;
  if (component === null) return null;
  const own = pools.filter((p) => p.kind === "clean" && p.components[0] === component && p.massMg !== null);
  if (own.length === 0) return null;
  const massMg = own.reduce((sum, p) => sum + (p.massMg ?? 0), 0);
  const theoryMg = basis.limitingMmol * basis.ratio * basis.productMolarMass;
  const pure = (side: keyof Interval) =>
    own.reduce((sum, p) => sum + (p.massMg ?? 0) * (facts.find((f) => f.id === p.pool)?.purity[side] ?? 1), 0);
  const percent = (mg: number) => (100 * mg) / theoryMg;
  return {
    component,
    massMg,
    mmol: massMg / basis.productMolarMass,
    theoryMg,
    yieldPercent: percent(massMg),
    yieldInterval: { low: percent(pure("low")), mid: percent(pure("mid")), high: percent(pure("high")) },
  };
}

function findingsOf(pools: readonly PoolRecovery[], total: Omit<Recovery, "findings">): Finding[] {
  const findings: Finding[] = [];
  const unknown = pools.filter((p) => p.kind === null);
  if (unknown.length > 0)
    findings.push({
      code: "pool-unknown",
      message: `Weighed, but in no reading: pool ${unknown.map((p) => p.pool).join(", ")}.`,
      remedy: "Weigh under the name of a pool on the bench sheet; the masses count all the same.",
      where: {},
    });
  const waiting = pools.filter((p) => p.massMg === null && p.kind !== "empty");
  if (waiting.length > 0 && pools.some((p) => p.massMg !== null))
    findings.push({
      code: "pool-not-weighed",
      message: `Not weighed yet: pool ${waiting.map((p) => p.pool).join(", ")}; the balance is open.`,
      remedy: "Weigh them before anything is thrown away.",
      where: {},
    });
  if (total.totalPercent !== null && total.totalPercent > TOO_MUCH)
    findings.push({
      code: "recovery-above-load",
      message: `${massInWords(total.totalMg)} came off, ${total.totalPercent.toFixed(0)} % of the ${massInWords(total.loadMg ?? 0)} loaded. Was mg typed for g somewhere, is a flask still wet, or is the load wrong?`,
      remedy:
        "Dry to constant mass and compare units with the balance's print; type the masses again, the last ones count.",
      where: {},
    });
  if (total.product && total.product.yieldPercent > TOO_MUCH)
    findings.push({
      code: "yield-above-theory",
      message: `A yield of ${total.product.yieldPercent.toFixed(0)} % cannot be: ${massInWords(total.product.massMg)} where ${massInWords(total.product.theoryMg)} is all there can be.`,
      remedy: "Check the molar mass, the amount of the limiting reagent, and solvent left in the product.",
      where: {},
    });
  return findings;
}

/**
 * Masses, recovery per pool and in all, what is missing, and the yield of the wanted component from its clean pools.
 * @param weighings the last one of each flask, masses in g; recovery % = 100 x mass out / mass loaded
 * @param loadMg mass put on the column, null where nobody said
 * @throws `tare-above-gross`, `mass-negative`, `mass-too-large`, `load-not-positive`, `molar-mass`, `limiting-amount`
 */
export function recoverMass(
  weighings: readonly Weighing[],
  pools: readonly WeighedPool[],
  loadMg: number | null,
  basis: YieldBasis | null,
): Recovery {
  if (loadMg !== null && !(loadMg > 0 && Number.isFinite(loadMg)))
    throw new PlatepoolError(
      "load-not-positive",
      `the load is ${loadMg} mg; it must be above 0. Give it again, with its unit.`,
    );
  for (const weighing of weighings) checkWeighing(weighing);
  const strangers = [...new Set(weighings.map((w) => w.pool))].filter((id) => !pools.some((p) => p.id === id));
  const rows = [
    ...pools.map((pool) => poolRecovery(pool, pool.id, weighings, loadMg)),
    ...strangers.map((id) => poolRecovery(null, id, weighings, loadMg)),
  ];
  const totalMg = rows.reduce((sum, row) => sum + (row.massMg ?? 0), 0);
  const totalPercent = percentOf(totalMg, loadMg);
  const total = {
    loadMg,
    pools: rows,
    totalMg,
    totalPercent,
    missingMg: loadMg === null ? null : loadMg - totalMg,
    missingPercent: totalPercent === null ? null : 100 - totalPercent,
    product: productOf(basis, rows, pools),
  };
  return { ...total, findings: findingsOf(rows, total) };
}
