import type { RunProduct, TubeNote } from "./bench.ts";
import type { ColumnStep, Drive, RackLayout, Sorbent } from "./column.ts";

/** The column as `run.yaml` tells of it; null: not said. Units as in the names. */
export interface RunColumn {
  readonly loadMg: number | null;
  readonly steps: readonly ColumnStep[];
  readonly names: Readonly<Record<string, string>>;
  readonly want: string | null;
  readonly sorbent: Sorbent | null;
  readonly drive: Drive | null;
  readonly bedCm: number | null;
  readonly diameterMm: number | null;
  readonly fractionMl: number | null;
  readonly holdUpMl: number | null;
  readonly forerunMl: number | null;
}

/** What a run file says besides plates and tubes: what happened on the bench. */
export interface RunBench {
  readonly rack: RackLayout | null;
  /** Racks at hand. */
  readonly racks: number | null;
  readonly tubes: readonly TubeNote[];
  readonly column: RunColumn | null;
  readonly product: RunProduct | null;
  readonly largestFlaskMl: number | null;
  /** Component or reference lane that is wanted among scouting plates. */
  readonly scoutWant: string | null;
}
