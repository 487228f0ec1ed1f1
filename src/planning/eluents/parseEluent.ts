import type { Eluent, SolventShare } from "../../model/index.ts";
import { PlatepoolError } from "../../model/index.ts";
import { solventName, solventStrength } from "./strength.ts";

const NUMBER = String.raw`\d+(?:[.,]\d+)?`;
const RATIO = new RegExp(String.raw`\(?\s*(${NUMBER}(?:\s*[:/]\s*${NUMBER})+)\s*(?:v/v)?\s*\)?\s*$`, "i");
const PERCENT = new RegExp(String.raw`^(${NUMBER})\s*%\s*(.+)$`);

const unreadable = (text: string, why: string) =>
  new PlatepoolError(
    "eluent-unreadable",
    `eluent "${text}" cannot be read: ${why}. Write it like "hexane/ethyl acetate 4:1", "20 % ethyl acetate in hexane" or "dichloromethane".`,
  );

const number = (text: string) => Number(text.replace(",", "."));

function addPercent(text: string, typed: string, into: Map<string, number>): void {
  const match = PERCENT.exec(typed.trim());
  if (!match) throw unreadable(text, `"${typed.trim()}" is no share like "1 % triethylamine"`);
  const share = number(match[1]) / 100;
  if (share <= 0 || share >= 1) throw unreadable(text, `${match[1]} % is no share of a mixture`);
  const name = solventName(match[2]);
  into.set(name, (into.get(name) ?? 0) + share);
}

/** "hexane-ethyl acetate", but not "n-hexane": a hyphen parts two solvents only where both sides are known ones. */
function splitHyphens(text: string): string[] {
  for (let at = text.indexOf("-"); at > 0; at = text.indexOf("-", at + 1)) {
    const [left, right] = [text.slice(0, at), text.slice(at + 1)];
    if (solventStrength(solventName(left)) !== null && solventStrength(solventName(right)) !== null)
      return [left, right];
  }
  return [text];
}

/** "hexane/ethyl acetate 4:1" or "dichloromethane" */
function readRatio(text: string, typed: string): Map<string, number> {
  const ratio = RATIO.exec(typed);
  const before = (ratio ? typed.slice(0, ratio.index) : typed).replace(/[\s=,]+$/, "");
  let names = before
    .split(/\s*[/:–]\s*/)
    .map((name) => name.trim())
    .filter((name) => name !== "");
  if (names.length === 1 && ratio) names = splitHyphens(names[0]);
  if (names.length === 0) throw unreadable(text, "no solvent is named");
  if (names.some((name) => !/[a-z]/i.test(name))) throw unreadable(text, "a solvent has no name");
  const parts = ratio ? ratio[1].split(/[:/]/).map(number) : [1];
  if (parts.length !== names.length)
    throw unreadable(
      text,
      ratio ? `${names.length} solvents but ${parts.length} parts` : `${names.length} solvents but no ratio`,
    );
  const sum = parts.reduce((a, b) => a + b, 0);
  if (!(sum > 0)) throw unreadable(text, "all parts are 0");
  const shares = new Map<string, number>();
  names.forEach((name, i) => {
    const full = solventName(name);
    if (shares.has(full)) throw unreadable(text, `${full} is named twice`);
    if (parts[i] > 0) shares.set(full, parts[i] / sum);
  });
  return shares;
}

/**
 * Reads an eluent as chemists write it: "hexane/ethyl acetate 4:1", "hexane:EtOAc (4:1)", "20 % ethyl acetate in
 * hexane", a pure solvent, each with "+ 1 % triethylamine" behind. Shares by volume, sum 1, weakest solvent first where
 * the order of strength is known. Throws `eluent-unreadable`.
 */
export function parseEluent(text: string): Eluent {
  const [base, ...extras] = text.trim().split(/\s+\+\s+/);
  if (!base) throw unreadable(text, "it is empty");
  const extra = new Map<string, number>();
  for (const typed of extras) addPercent(text, typed, extra);

  let shares: Map<string, number>;
  const inner = /^(.*?%.*)\s+in\s+(.+)$/i.exec(base);
  if (inner) {
    const minor = new Map<string, number>();
    for (const typed of inner[1].split(/\s*(?:,\s+|\band\b)\s*/)) addPercent(text, typed, minor);
    const rest = 1 - [...minor.values()].reduce((a, b) => a + b, 0);
    if (rest <= 0) throw unreadable(text, "the shares make 100 % or more");
    const solvent = solventName(inner[2]);
    if (minor.has(solvent)) throw unreadable(text, `${solvent} is named twice`);
    shares = new Map([[solvent, rest], ...minor]);
  } else shares = readRatio(text, base);

  const extraSum = [...extra.values()].reduce((a, b) => a + b, 0);
  if (extraSum >= 1) throw unreadable(text, "the shares make 100 % or more");
  const all = new Map([...shares].map(([name, share]) => [name, share * (1 - extraSum)] as const));
  for (const [name, share] of extra) all.set(name, (all.get(name) ?? 0) + share);
  const parts: SolventShare[] = [...all].map(([solvent, share]) => ({ solvent, share }));
  const known = parts.every((part) => solventStrength(part.solvent) !== null);
  if (known) parts.sort((a, b) => (solventStrength(a.solvent) ?? 0) - (solventStrength(b.solvent) ?? 0));
  return { text: text.trim(), parts };
}

/** "16 % ethyl acetate in hexane (about 5:1)" for a volume share 0..1 of the stronger solvent. */
export function describeMixture(weak: string, strong: string, share: number): string {
  if (share >= 0.995) return strong;
  if (share <= 0.0005) return weak;
  const percent = share * 100;
  const shown = percent < 10 ? Number(percent.toFixed(1)) : Math.round(percent);
  const ratio = share <= 0.5 ? `${nice((1 - share) / share)}:1` : `1:${nice(share / (1 - share))}`;
  return `${shown} % ${strong} in ${weak} (about ${ratio})`;
}

function nice(value: number): string {
  if (value >= 20) return String(Math.round(value / 5) * 5);
  if (value >= 8) return String(Math.round(value));
  return String(Math.round(value * 2) / 2);
}
