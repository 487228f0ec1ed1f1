import { type ColumnStep, PlatepoolError, type RackLayout } from "../../model/index.ts";
import { type PartialRequest, parseLengthMm, parseMassG, parseVolumeMl } from "../../planning/index.ts";
import type { ReadingFlags } from "../reading/options.ts";

/** What `platepool plan` is called with, as typed. */
export interface PlanFlags extends ReadingFlags {
  readonly load?: string;
  readonly rf?: string;
  readonly eluent?: string;
  readonly step?: readonly string[];
  readonly diameter?: string;
  readonly bed?: string;
  readonly fraction?: string;
  readonly holdUp?: string;
  readonly forerun?: string;
  readonly sorbent?: "silica" | "alumina";
  readonly gravity?: boolean;
  readonly rack?: string;
  readonly fill?: RackLayout["fill"];
  readonly start?: RackLayout["start"];
  readonly again?: string | boolean;
  readonly json?: boolean;
  readonly out?: string;
}

/** "A=0.42,B=0.30" or "0.42,0.30" (then A, B ... in this order). Throws `rf-unreadable`, `rf-repeated`. */
export function parseRfs(text: string): Record<string, number> {
  const rf: Record<string, number> = {};
  text
    .split(/[,;]\s*|\s+/)
    .filter(Boolean)
    .forEach((part, i) => {
      const match = /^(?:([^=\s]+)=)?([+-]?\d*\.?\d+)$/.exec(part);
      if (!match)
        throw new PlatepoolError("rf-unreadable", `"${part}" is no Rf: write --rf A=0.42,B=0.30 or --rf 0.42,0.30`);
      const id = match[1] ?? String.fromCharCode(65 + (i % 26));
      if (id in rf) throw new PlatepoolError("rf-repeated", `${id} has two Rf in "${text}": keep one`);
      rf[id] = Number(match[2]);
    });
  if (Object.keys(rf).length === 0)
    throw new PlatepoolError("rf-unreadable", "--rf is empty: write --rf A=0.42,B=0.30");
  return rf;
}

/** "160mL; hexane/ethyl acetate 1:1; A=0.9,B=0.8" */
function parseStep(text: string): ColumnStep {
  const parts = text.split(";").map((p) => p.trim());
  if (parts.length !== 3)
    throw new PlatepoolError(
      "step-unreadable",
      `--step "${text}" cannot be read: write "160mL; hexane/ethyl acetate 1:1; A=0.9,B=0.8" (poured before it; eluent; Rf in it)`,
    );
  return { fromMl: parseVolumeMl(parts[0], "the step at"), eluent: parts[1] || null, rf: parseRfs(parts[2]) };
}

/**
 * "4x10" with the way it is filled; null where nothing was typed of a rack.
 * @param known rack that the way of filling is said of where no other is typed
 * @throws PlatepoolError rack-unreadable, rack-missing
 */
export function parseRack(
  { rack, fill, start }: Pick<PlanFlags, "rack" | "fill" | "start">,
  known: RackLayout | null,
): RackLayout | null {
  if (rack === undefined) {
    if (fill === undefined && start === undefined) return null;
    if (known) return { ...known, fill: fill ?? known.fill, start: start ?? known.start };
    throw new PlatepoolError(
      "rack-missing",
      "--fill and --start are said of a rack: give --rack too, such as --rack 4x10",
    );
  }
  const match = /^(\d+)\s*[x×*]\s*(\d+)$/i.exec(rack.trim());
  if (!match)
    throw new PlatepoolError(
      "rack-unreadable",
      `--rack "${rack}" cannot be read: write rows x columns, such as --rack 4x10`,
    );
  return {
    rows: Number(match[1]),
    columns: Number(match[2]),
    fill: fill ?? "rows",
    start: start ?? "top-left",
  };
}

const optional = <T>(text: string | undefined, read: (text: string) => T): T | null =>
  text === undefined ? null : read(text);

/** The typed part of a request; what was not typed is null. `rack`: the one that run.yaml tells of. */
export function typedRequest(flags: PlanFlags, rack: RackLayout | null = null): PartialRequest {
  const first = optional(flags.rf, parseRfs);
  const later = (flags.step ?? []).map(parseStep);
  if (!first && later.length > 0)
    throw new PlatepoolError("no-rf", "--step needs --rf for the first eluent: write --rf A=0.42,B=0.30 besides it");
  const mm = optional(flags.bed, (t) => parseLengthMm(t, "the bed"));
  return {
    loadMg: optional(flags.load, (t) => parseMassG(t, "the load") * 1000),
    steps: first ? [{ eluent: flags.eluent ?? null, fromMl: 0, rf: first }, ...later] : null,
    want: flags.want ?? null,
    sorbent: flags.sorbent ?? null,
    drive: flags.gravity ? "gravity" : null,
    bedCm: mm === null ? null : mm / 10,
    diameterMm: optional(flags.diameter, (t) => parseLengthMm(t, "the diameter")),
    fractionMl: optional(flags.fraction, (t) => parseVolumeMl(t, "the fraction")),
    holdUpMl: optional(flags.holdUp, (t) => parseVolumeMl(t, "the hold-up volume")),
    forerunMl: optional(flags.forerun, (t) => parseVolumeMl(t, "the forerun")),
    rack: parseRack(flags, rack),
  };
}

/** The options that make a plan. */
export function planOptions(flags: PlanFlags): Readonly<Record<string, unknown>> {
  const { load, rf, eluent, step, diameter, bed, fraction, holdUp, forerun, sorbent, gravity } = flags;
  const { rack, fill, start } = flags;
  return { load, rf, eluent, step, diameter, bed, fraction, holdUp, forerun, sorbent, gravity, rack, fill, start };
}

/** True where something was typed that makes a new plan. */
export function asksForPlan(flags: PlanFlags): boolean {
  return Object.values(planOptions(flags)).some((value) => value !== undefined);
}
