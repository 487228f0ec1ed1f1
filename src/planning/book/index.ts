import type { BenchBook, BenchRecord, ColumnRequest, RunBench, Weighing } from "../../model/index.ts";
import { PlatepoolError } from "../../model/index.ts";

/** What the entries of the bench book come to: the last word on each flask, tube, plan and load counts. */
export function foldBook(records: readonly BenchRecord[]): BenchBook {
  const flasks = new Map<string, Weighing>();
  const key = (of: { pool: string; flask: string }) => JSON.stringify([of.pool, of.flask]);
  let book: BenchBook = { plan: null, weighings: [], loadMg: null, product: null, tubes: [] };
  for (const { entry } of records) {
    if (entry.kind === "plan") book = { ...book, plan: entry.request };
    else if (entry.kind === "load") book = { ...book, loadMg: entry.loadMg };
    else if (entry.kind === "product") book = { ...book, product: entry.product };
    else if (entry.kind === "tube") book = { ...book, tubes: [...book.tubes, entry.note] };
    else if (entry.kind === "strike") flasks.delete(key(entry));
    else if (entry.kind === "weighing") {
      const { pool, flask, tareG, grossG } = entry;
      flasks.set(key(entry), { pool, flask, tareG, grossG });
    }
  }
  return { ...book, weighings: [...flasks.values()] };
}

/** What a request may leave to the plan; what is typed now stands above the run file. */
export type PartialRequest = { readonly [K in keyof ColumnRequest]?: ColumnRequest[K] | null };

/**
 * The column asked for: typed values first, then `run.yaml`, then what is usual. Throws `mass-missing`, `no-rf` where
 * the two things that nobody can guess are missing.
 * @param usualMl volume of the tubes in mL, where the run file tells it
 */
export function completeRequest(
  typed: PartialRequest,
  bench: RunBench | null,
  usualMl: number | null = null,
): ColumnRequest {
  const column = bench?.column ?? null;
  const loadMg = typed.loadMg ?? column?.loadMg ?? null;
  if (loadMg === null)
    throw new PlatepoolError(
      "mass-missing",
      "how much is to be loaded? Give --load 250mg, or column: { load_mg: 250 } in run.yaml.",
    );
  const steps = typed.steps?.length ? typed.steps : (column?.steps ?? []);
  if (steps.length === 0)
    throw new PlatepoolError(
      "no-rf",
      "which Rf? Give --rf A=0.42,B=0.30, or column: steps: in run.yaml, or name a folder with a plate.",
    );
  return {
    loadMg,
    steps,
    names: typed.names ?? column?.names ?? {},
    amounts: typed.amounts ?? {},
    want: typed.want ?? column?.want ?? null,
    sorbent: typed.sorbent ?? column?.sorbent ?? "silica",
    drive: typed.drive ?? column?.drive ?? "pressure",
    bedCm: typed.bedCm ?? column?.bedCm ?? 15,
    diameterMm: typed.diameterMm ?? column?.diameterMm ?? null,
    fractionMl: typed.fractionMl ?? column?.fractionMl ?? usualMl,
    holdUpMl: typed.holdUpMl ?? column?.holdUpMl ?? null,
    forerunMl: typed.forerunMl ?? column?.forerunMl ?? 0,
    rack: typed.rack ?? bench?.rack ?? null,
  };
}
