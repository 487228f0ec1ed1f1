import { PlatepoolError } from "../../model/index.ts";

const PATTERN = /^([+-]?\d+(?:[.,]\d+)?(?:e[+-]?\d+)?)\s*([a-zµμ]*)$/i;

function parse(text: string, what: string, units: Readonly<Record<string, number>>, shown: string): number {
  const match = PATTERN.exec(text.trim());
  if (!match)
    throw new PlatepoolError(
      "quantity-unreadable",
      `${what} "${text}" is no quantity; write a number and its unit (${shown}).`,
    );
  const value = Number(match[1].replace(",", "."));
  const unit = match[2].toLowerCase().replace("μ", "µ");
  if (unit === "")
    throw new PlatepoolError(
      "unit-missing",
      `${what} ${match[1]}: in which unit? Write ${shown
        .split(", ")
        .map((u) => `${match[1]}${u}`)
        .join(" or ")}.`,
    );
  const factor = units[unit];
  if (factor === undefined)
    throw new PlatepoolError(
      "unit-unknown",
      `${what} "${text}": the unit ${match[2]} does not fit here; use ${shown}.`,
    );
  return value * factor;
}

/** A mass in g from "45.1234 g" or "250mg"; a bare number is asked back. Throws `quantity-unreadable`, `unit-missing`, `unit-unknown`. */
export function parseMassG(text: string, what: string): number {
  return parse(text, what, { g: 1, mg: 1e-3, kg: 1e3, µg: 1e-6 }, "g, mg");
}

/** A volume in mL from "160 mL" or "0.5 L". Throws as `parseMassG`. */
export function parseVolumeMl(text: string, what: string): number {
  return parse(text, what, { ml: 1, l: 1e3, cl: 10, µl: 1e-3 }, "mL, L");
}

/** A length in mm from "20 mm" or "15 cm". Throws as `parseMassG`. */
export function parseLengthMm(text: string, what: string): number {
  return parse(text, what, { mm: 1, cm: 10, m: 1000 }, "mm, cm");
}

/** An amount in mmol from "1.9 mmol" or "0.002 mol". Throws as `parseMassG`. */
export function parseAmountMmol(text: string, what: string): number {
  return parse(text, what, { mmol: 1, mol: 1e3, µmol: 1e-3, umol: 1e-3 }, "mmol, mol");
}

/** 12.3 mg, 1.234 g: a mass in mg as a notebook writes it. */
export function massInWords(mg: number): string {
  const size = Math.abs(mg);
  if (size >= 1000) return `${(mg / 1000).toFixed(3)} g`;
  return `${size >= 100 ? mg.toFixed(0) : mg.toFixed(1)} mg`;
}
