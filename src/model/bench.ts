import type { ColumnRequest, RackLayout } from "./column.ts";
import type { Interval, TubeState } from "./elution.ts";
import type { Finding } from "./finding.ts";

/** What was written down about some tubes. */
export interface TubeNote {
  /** First and last tube it holds for. */
  readonly from: number;
  readonly to: number;
  readonly volumeMl: number | null;
  /** Eluent from the first of them on. */
  readonly eluent: string | null;
  /** Receiving flask from the first of them on, where not collected in tubes. */
  readonly flask: string | null;
  readonly note: string | null;
}

export interface LoggedTube {
  readonly number: number;
  readonly volumeMl: number;
  /** Volume through the column at its start and end, mL. */
  readonly startMl: number;
  readonly endMl: number;
  /** True where nobody said otherwise and the usual volume stands in. */
  readonly assumed: boolean;
  readonly eluent: string | null;
  readonly flask: string | null;
  readonly notes: readonly string[];
}

export interface TubeLog {
  readonly tubes: readonly LoggedTube[];
  readonly totalMl: number;
  /** Tubes at which the eluent changes, with the new one. */
  readonly changes: readonly { readonly tube: number; readonly eluent: string }[];
}

/** How one pool gets into flasks. */
export interface FlaskPlan {
  readonly flaskMl: number;
  /** Times the flask is filled, each at most to half. */
  readonly portions: number;
  readonly portionMl: number;
}

export interface SheetPool {
  readonly id: string;
  readonly kind: TubeState;
  readonly components: readonly string[];
  readonly tubes: readonly number[];
  readonly volumeMl: number;
  /** True where the usual volume stands in for some tubes. */
  readonly volumeAssumed: boolean;
  readonly flask: FlaskPlan | null;
  readonly purity: Interval | null;
  readonly confidence: number | null;
  /** One line of what to do with it. */
  readonly action: string;
}

/** All that the bench sheet shows. */
export interface BenchSheet {
  readonly run: string | null;
  readonly rack: RackLayout;
  /** Number of racks needed. */
  readonly racks: number;
  readonly rackAssumed: boolean;
  readonly tubeCount: number;
  readonly pools: readonly SheetPool[];
  readonly runAgain: readonly string[];
  readonly keep: readonly string[];
  readonly notes: readonly string[];
  readonly cautions: readonly string[];
  readonly findings: readonly Finding[];
}

/** One flask on the balance. Masses in g. */
export interface Weighing {
  readonly pool: string;
  /** Tells several flasks of one pool apart. */
  readonly flask: string;
  readonly tareG: number;
  readonly grossG: number;
}

/** What a yield needs; molar masses in g/mol. */
export interface YieldBasis {
  readonly productMolarMass: number;
  /** Amount of the limiting reagent, mmol. */
  readonly limitingMmol: number;
  /** Moles of product per mole of limiting reagent. */
  readonly ratio: number;
  /** Component that is the product. */
  readonly component: string | null;
}

export interface PoolRecovery {
  readonly pool: string;
  readonly kind: TubeState | null;
  readonly components: readonly string[];
  /** Null where it was not weighed. */
  readonly massMg: number | null;
  readonly flasks: number;
  /** % of the load. */
  readonly recoveryPercent: number | null;
}

export interface Recovery {
  readonly loadMg: number | null;
  readonly pools: readonly PoolRecovery[];
  readonly totalMg: number;
  readonly totalPercent: number | null;
  readonly missingMg: number | null;
  readonly missingPercent: number | null;
  readonly product: {
    readonly component: string;
    readonly massMg: number;
    readonly mmol: number;
    readonly theoryMg: number;
    readonly yieldPercent: number;
    /** 90 % interval from the purity the plates show. */
    readonly yieldInterval: Interval;
  } | null;
  readonly findings: readonly Finding[];
}

/** What a yield is reckoned from. */
export interface RunProduct {
  readonly component: string | null;
  readonly molarMass: number;
  readonly limitingMmol: number;
  readonly ratio: number;
}

export const BENCH_SCHEMA = "platepool.bench/1";

/** What was typed at the bench; each stands once and for all, the last word on a thing counts. */
export type BenchEntry =
  | { readonly kind: "plan"; readonly request: ColumnRequest }
  | ({ readonly kind: "weighing"; readonly typed: { readonly tare: string; readonly gross: string } } & Weighing)
  | { readonly kind: "strike"; readonly pool: string; readonly flask: string }
  | { readonly kind: "load"; readonly loadMg: number; readonly typed: string }
  | { readonly kind: "product"; readonly product: RunProduct }
  | { readonly kind: "tube"; readonly note: TubeNote }
  | { readonly kind: "refused"; readonly typed: string; readonly why: string };

/** An entry as it stands in the book: when, and what. */
export interface BenchRecord {
  /** ISO 8601, UTC. */
  readonly at: string;
  readonly entry: BenchEntry;
}

/** What all entries come to. */
export interface BenchBook {
  readonly plan: ColumnRequest | null;
  /** The last one of each flask. */
  readonly weighings: readonly Weighing[];
  readonly loadMg: number | null;
  readonly product: RunProduct | null;
  readonly tubes: readonly TubeNote[];
}
