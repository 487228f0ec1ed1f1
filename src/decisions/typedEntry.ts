import type { TubeEntry } from "../model/index.ts";
import { tubesInWords } from "./words.ts";

/** What the log may say of a tube. */
export const SAID_FIELDS = ["volume", "eluent", "flask", "note"] as const;
export type SaidField = (typeof SAID_FIELDS)[number];
export type EntryField = "tubes" | SaidField;

/** An entry of the tube log as it is typed; what is empty or left out is not spoken of. */
export interface TypedEntry extends Partial<Readonly<Record<SaidField, string>>> {
  readonly tubes: string;
  /** What is to be said of these tubes no more. */
  readonly strike?: readonly SaidField[];
}

export interface EntryFault {
  readonly field: EntryField;
  readonly message: string;
}

/** What is typed as an entry, or what is wrong with each field of it. */
export type ParsedEntry = { readonly entry: TubeEntry } | { readonly faults: readonly EntryFault[] };

/** More than this is no tube, mL. */
const LARGEST_ML = 5000;
const LONGEST_TEXT = 200;

/**
 * Reads an entry as it was typed.
 * @param tubes numbers of the run's tubes
 */
export function parseEntry(typed: TypedEntry, tubes: readonly number[]): ParsedEntry {
  const faults: EntryFault[] = [];
  const taken = <T>(field: EntryField, read: (text: string) => T | Fault): T | undefined => {
    const value = read(typed[field]?.trim() ?? "");
    if (!(value instanceof Fault)) return value;
    faults.push({ field, message: value.message });
    return undefined;
  };
  const range = taken("tubes", (text) => readTubes(text, tubes));
  const said = SAID_FIELDS.flatMap((field) => {
    const value = taken(field, (text) => readSaid(field, text, typed.strike?.includes(field) ?? false));
    return value === undefined ? [] : [[field === "volume" ? "volumeMl" : field, value] as const];
  });
  if (faults.length === 0 && said.length === 0)
    faults.push({ field: "volume", message: "write a volume, an eluent, a flask or a note" });
  if (faults.length > 0 || range === undefined) return { faults };
  return { entry: { ...range, ...Object.fromEntries(said) } };
}

/** What is said of one thing: undefined where nothing is, null where nothing is to be said any more. */
function readSaid(field: SaidField, text: string, struck: boolean): string | number | null | undefined | Fault {
  if (text === "") return struck ? null : undefined;
  if (struck) return new Fault("is written and struck at once: which of them?");
  return field === "volume" ? readVolume(text) : readText(text);
}

/** What is wrong with an entry, whoever made it; empty where it can stand. */
export function entryFaults(entry: TubeEntry, tubes: readonly number[]): readonly EntryFault[] {
  const { from, to, volumeMl, eluent, flask, note } = entry;
  const faults: (readonly [EntryField, unknown])[] = [
    ["tubes", known(from, to, tubes)],
    ["volume", typeof volumeMl === "number" ? inRange(volumeMl) : null],
    ...(["eluent", "flask", "note"] as const).map((field) => {
      const text = { eluent, flask, note }[field];
      return [field, typeof text === "string" ? readText(text) : null] as const;
    }),
  ];
  if ([volumeMl, eluent, flask, note].every((v) => v === undefined))
    return [{ field: "tubes", message: "nothing is said of these tubes" }];
  return faults.flatMap(([field, fault]) => (fault instanceof Fault ? [{ field, message: fault.message }] : []));
}

class Fault {
  readonly message: string;
  constructor(message: string) {
    this.message = message;
  }
}

function readTubes(text: string, tubes: readonly number[]) {
  const [, first, last = first] = /^(\d{1,4})(?:\s*[-–]\s*(\d{1,4}))?$/.exec(text) ?? [];
  if (first === undefined)
    return new Fault(text === "" ? "which tube? Write 7, or 7-9" : `"${text}" is no tube: write 7, or 7-9`);
  return known(Number(first), Number(last), tubes);
}

function known(from: number, to: number, tubes: readonly number[]) {
  if (to < from) return new Fault(`tubes ${from}-${to} run backwards: write ${to}-${from}`);
  const missing = [from, to].filter((n, i, all) => !tubes.includes(n) && all.indexOf(n) === i);
  if (missing.length === 0) return { from, to };
  return new Fault(
    `there is no ${tubesInWords(missing)}; the run has ${tubesInWords(tubes)}. Were more filled? Then set fractions: count in run.yaml`,
  );
}

function readVolume(text: string): number | Fault {
  const [, number, unit = ""] = /^([+-]?\d+(?:[.,]\d+)?)\s*(ml|l)?$/i.exec(text) ?? [];
  if (number === undefined) return new Fault(`"${text}" is no volume: write millilitres as a number, such as 12.5`);
  return inRange(Number(number.replace(",", ".")) * (unit.toLowerCase() === "l" ? 1000 : 1));
}

function inRange(ml: number): number | Fault {
  if (!(ml >= 0)) return new Fault(`${ml} mL is less than nothing: write 0 or more`);
  if (ml > LARGEST_ML) return new Fault(`${ml} mL is more than a tube holds: is that in mL?`);
  return ml;
}

function readText(text: string): string | Fault {
  if (text.trim() === "") return new Fault("is empty");
  if ([...text].length > LONGEST_TEXT) return new Fault(`is longer than ${LONGEST_TEXT} characters`);
  if (/[\p{Cc}\p{Zl}\p{Zp}]/u.test(text)) return new Fault("must stand on one line");
  return text;
}
