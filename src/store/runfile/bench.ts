import { z } from "zod";
import type { ColumnStep, RackLayout, RunBench, TubeNote } from "../../model/index.ts";
import type { YamlFault, YamlText } from "./document.ts";
import { MAX_TUBE } from "./lanes.ts";

const asText = (value: unknown) => (typeof value === "number" ? String(value) : value);
const word = z.preprocess(asText, z.string("must be a word or a number").trim().min(1, "must not be empty"));
const above0 = (unit: string) => z.number(`must be a number (${unit})`).positive(`must be above 0 (${unit})`);
const eluent = z.string('must be an eluent, such as "hexane/ethyl acetate 4:1"').trim().min(1, "must not be empty");

const fills = ["rows", "serpentine", "columns", "columns-serpentine"] as const;
const corners = ["top-left", "top-right", "bottom-left", "bottom-right"] as const;
const places = (what: string) =>
  z.int(`must be a whole number of ${what}`).min(1, "must be 1 or more").max(50, "must be 50 or less");

const rack = z.strictObject(
  {
    rows: places("rows"),
    columns: places("columns"),
    fill: z.enum(fills, `must be one of ${fills.join(", ")}`).nullish(),
    start: z.enum(corners, `must be one of ${corners.join(", ")}`).nullish(),
    racks: places("racks").nullish(),
  },
  "must be written as { rows: 4, columns: 10, fill: serpentine }",
);

const tubeNote = z.strictObject(
  {
    tube: z.custom<string | number>(
      (value) => typeof value === "number" || typeof value === "string",
      "must be a tube's number or a range such as 3-7",
    ),
    volume_ml: z
      .number("must be a number of millilitres")
      .min(0, "must be 0 or more (mL)")
      .max(5000, "is more than a tube holds; mL?")
      .nullish(),
    eluent: eluent.nullish(),
    flask: word.nullish(),
    note: word.nullish(),
  },
  'must be written as { tube: 9, volume_ml: 8, note: "flask changed" }',
);

const rf = z
  .number("must be an Rf between 0 and 1")
  .min(0, "must be an Rf between 0 and 1")
  .max(1, "must be an Rf between 0 and 1 (hRf 35 is Rf 0.35)");

const step = z.strictObject(
  {
    eluent: eluent.nullish(),
    from_ml: z.number("must be the mL poured before this eluent").min(0, "must be 0 or more (mL)").nullish(),
    rf: z.record(z.string(), rf, "must give the Rf of each component, such as { A: 0.42, B: 0.30 }"),
  },
  'must be written as { eluent: "hexane/ethyl acetate 4:1", rf: { A: 0.42, B: 0.30 } }',
);

const column = z.strictObject(
  {
    load_mg: above0("mg").nullish(),
    want: word.nullish(),
    names: z.record(z.string(), word, "must name components, such as { B: chalcone }").nullish(),
    sorbent: z.enum(["silica", "alumina"], "must be silica or alumina").nullish(),
    drive: z.enum(["pressure", "gravity"], "must be pressure or gravity").nullish(),
    bed_cm: above0("cm").nullish(),
    diameter_mm: above0("mm").nullish(),
    fraction_ml: above0("mL").nullish(),
    hold_up_ml: above0("mL").nullish(),
    forerun_ml: z.number("must be a number of mL").min(0, "must be 0 or more (mL)").nullish(),
    steps: z
      .array(step, "must be a list of eluents, each with a dash before it")
      .min(1, "must list an eluent")
      .nullish(),
  },
  "must hold keys such as load_mg:, diameter_mm: and steps:",
);

const product = z.strictObject(
  {
    component: word.nullish(),
    molar_mass: above0("g/mol"),
    limiting_mmol: above0("mmol"),
    ratio: above0("moles of product per mole of reagent").nullish(),
  },
  "must be written as { component: B, molar_mass: 208.26, limiting_mmol: 1.2 }",
);

/** Sections of `run.yaml` about the bench, to be spread into the schema of the whole file. */
export const benchShape = {
  rack: rack.nullish(),
  tubes: z.array(tubeNote, "must be a list, each entry with a dash before it").nullish(),
  column: column.nullish(),
  product: product.nullish(),
  largest_flask_ml: above0("mL").nullish(),
  scout: z.strictObject({ want: word.nullish() }, "must be written as { want: chalcone }").nullish(),
};

/** Keys of a plate about its eluent: one for the plate, or one for each lane. */
export const plateBenchShape = {
  eluent: eluent.nullish(),
  eluents: z.array(eluent, "must be a list of eluents, one for each lane from left to right").nullish(),
};

type TypedBench = { [K in keyof typeof benchShape]?: z.infer<(typeof benchShape)[K]> };

function spellTubes(entry: string | number): { from: number; to: number } | null {
  const match = /^(\d+)(?:\s*[-–]\s*(\d+))?$/.exec(String(entry).trim());
  if (!match) return null;
  const from = Number(match[1]);
  const to = Number(match[2] ?? match[1]);
  return from >= 1 && to >= from && to <= MAX_TUBE ? { from, to } : null;
}

function spellNotes(typed: NonNullable<TypedBench["tubes"]>, text: YamlText, faults: YamlFault[]): TubeNote[] {
  return typed.flatMap((entry, i) => {
    const range = spellTubes(entry.tube);
    if (range) {
      const { volume_ml, eluent: e, flask, note } = entry;
      return [{ ...range, volumeMl: volume_ml ?? null, eluent: e ?? null, flask: flask ?? null, note: note ?? null }];
    }
    faults.push({
      line: text.lineOf(["tubes", i, "tube"]),
      message: `"${entry.tube}" is no tube: write a number from 1 on, or a range such as 3-7`,
    });
    return [];
  });
}

function spellSteps(
  typed: NonNullable<NonNullable<TypedBench["column"]>["steps"]>,
  text: YamlText,
  faults: YamlFault[],
): ColumnStep[] {
  return typed.map((entry, i) => {
    if (i > 0 && entry.from_ml == null)
      faults.push({
        line: text.lineOf(["column", "steps", i]),
        message: "from_ml is missing: write the mL poured before this eluent",
      });
    return { eluent: entry.eluent ?? null, fromMl: entry.from_ml ?? 0, rf: entry.rf };
  });
}

/** The bench sections spelled out; what is wrong between their parts goes to `faults`. */
export function spellBench(typed: TypedBench, text: YamlText, faults: YamlFault[]): RunBench {
  const { rack: r, column: c, product: p } = typed;
  const layout: RackLayout | null = r
    ? { rows: r.rows, columns: r.columns, fill: r.fill ?? "rows", start: r.start ?? "top-left" }
    : null;
  return {
    rack: layout,
    racks: r?.racks ?? null,
    tubes: spellNotes(typed.tubes ?? [], text, faults),
    column: c
      ? {
          loadMg: c.load_mg ?? null,
          steps: spellSteps(c.steps ?? [], text, faults),
          names: c.names ?? {},
          want: c.want ?? null,
          sorbent: c.sorbent ?? null,
          drive: c.drive ?? null,
          bedCm: c.bed_cm ?? null,
          diameterMm: c.diameter_mm ?? null,
          fractionMl: c.fraction_ml ?? null,
          holdUpMl: c.hold_up_ml ?? null,
          forerunMl: c.forerun_ml ?? null,
        }
      : null,
    product: p
      ? { component: p.component ?? null, molarMass: p.molar_mass, limitingMmol: p.limiting_mmol, ratio: p.ratio ?? 1 }
      : null,
    largestFlaskMl: typed.largest_flask_ml ?? null,
    scoutWant: typed.scout?.want ?? null,
  };
}

/** Eluents of a plate: none, one for all lanes, or one for each. */
export function spellEluents(
  typed: { readonly eluent?: string | null; readonly eluents?: readonly string[] | null },
  plate: number,
  lanes: number | null,
  text: YamlText,
  faults: YamlFault[],
): readonly string[] {
  const { eluent: one, eluents } = typed;
  if (one != null && eluents != null)
    faults.push({
      line: text.lineOf(["plates", plate, "eluents"]),
      message: "eluent and eluents stand together: keep one of them",
    });
  if (eluents != null && lanes !== null && eluents.length !== lanes)
    faults.push({
      line: text.lineOf(["plates", plate, "eluents"]),
      message: `${eluents.length} eluents, but ${lanes} lanes: give one for each lane, or eluent: for all`,
    });
  return eluents ?? (one != null ? [one] : []);
}
