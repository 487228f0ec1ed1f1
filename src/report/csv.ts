import type { Result, ResultPool } from "../model/index.ts";
import { asSuggested, type Division, divisionOf } from "./division.ts";
import { numberRanges } from "./words.ts";

/** A cell that a spreadsheet would take for a formula (OWASP, CSV Injection), full-width signs and leading blanks included. */
const FORMULA = /^\s*[=+\-@\t\r\uff1d\uff0b\uff0d\uff20]/;

export type Cell = string | number | boolean | null;

/**
 * One row per tube with its state, shares and amounts, and the pool that it goes to with the pool's own figures, so that
 * one sheet sorts, filters and sums by pool. That is the pool that counts: divided by hand where it was, and then whether
 * it was accepted; beside it the pool that was suggested. RFC 4180: CRLF, quotes doubled; UTF-8 without a byte order mark. Texts that
 * would be run as formulas are led by an apostrophe. Shares, purities and confidences are 0..1, volumes mL.
 */
export function poolsCsv(result: Result, suggested: Result | null = null): string {
  const division = suggested && divisionOf(suggested);
  const components = result.components.map((c) => c.id);
  const header: Cell[] = [
    "tube",
    "pool",
    "suggested pool",
    "decision",
    "state",
    "confidence",
    "spotted",
    ...components.map((c) => `share ${c}`),
    ...components.map((c) => `amount ${c}`),
    "pool kind",
    "pool tubes",
    "pool components",
    "pool volume mL",
    "pool purity",
    "pool purity low",
    "pool purity high",
    "pool confidence",
    "reason",
    "pool reason",
  ];
  const rows = result.fractions.map((f): Cell[] => {
    const pool = result.pools.find((p) => p.id === f.pool);
    const held = pool && pool.kind !== "empty" ? pool.purity : null;
    return [
      f.number,
      f.pool,
      suggested ? (suggested.fractions.find((s) => s.number === f.number)?.pool ?? null) : f.pool,
      decisionOn(division, f.number),
      f.state,
      figure(f.confidence),
      f.seen ? "yes" : "no",
      ...components.map((c) => figure(f.composition[c] ?? 0)),
      ...components.map((c) => figure(amountOf(result, c, f.number))),
      pool?.kind ?? null,
      pool ? numberRanges(pool.fractions, " to ").replaceAll(", ", " and ") : null,
      pool ? pool.components.join(" and ") : null,
      pool?.volume_ml ?? null,
      figure(held?.mid ?? null),
      figure(held?.low ?? null),
      figure(held?.high ?? null),
      figure(pool?.confidence ?? null),
      f.reason,
      pool ? (reasonOf(division, pool) ?? pool.reason) : null,
    ];
  });
  return csvTable([header, ...rows]);
}

/** A table as RFC 4180 text: CRLF, quotes doubled; texts that a spreadsheet would run are led by an apostrophe. */
export function csvTable(rows: readonly (readonly Cell[])[]): string {
  return rows.map((row) => `${row.map(cell).join(",")}\r\n`).join("");
}

/** What a person did about a tube's pool: said yes to it, divided it so, or left it as suggested. */
function decisionOn(division: Division | null, tube: number): string {
  const pool = division?.pools.find((p) => p.fractions.includes(tube));
  if (!division || !pool) return "suggested";
  return pool.accepted ? "accepted" : asSuggested(division, pool) ? "suggested" : "by hand";
}

/** A pool taken as suggested keeps the suggestion's reason. */
function reasonOf(division: Division | null, pool: ResultPool): string | null {
  return division && asSuggested(division, pool) ? (division.origin.get(pool.id)?.reason ?? null) : null;
}

function amountOf(result: Result, component: string, fraction: number): number | null {
  const profile = result.profiles.find((p) => p.component === component);
  return profile?.points.find((p) => p.fraction === fraction)?.amount ?? null;
}

/** Four significant digits, never in exponents, which some spreadsheets read as text. */
export function figure(value: number | null): number | null {
  if (value === null || !Number.isFinite(value)) return null;
  return Math.abs(value) < 5e-5 ? 0 : Number(value.toPrecision(4));
}

function cell(value: Cell): string {
  if (value === null) return "";
  if (typeof value !== "string") return String(value);
  const safe = FORMULA.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
