import type { Drive, Sorbent } from "../../model/index.ts";

interface SorbentFacts {
  /** g of dry powder per mL of packed bed. */
  readonly density: number;
  /** mL of eluent in and between the grains per mL of bed. */
  readonly porosity: number;
}

/** Common practice, no source: about half a gram of silica fills a millilitre, four fifths of the bed is liquid. */
const SORBENTS: Readonly<Record<Sorbent, SorbentFacts>> = {
  silica: { density: 0.5, porosity: 0.8 },
  alumina: { density: 0.9, porosity: 0.6 },
};

export interface Bed {
  readonly bedMl: number;
  readonly sorbentG: number;
  readonly holdUpMl: number;
}

/** Bed of a diameter (mm) and height (cm): volume, dry sorbent and hold-up volume estimated from it. */
export function bedOf(diameterMm: number, bedCm: number, sorbent: Sorbent): Bed {
  const bedMl = (Math.PI / 4) * (diameterMm / 10) ** 2 * bedCm;
  const facts = SORBENTS[sorbent];
  return { bedMl, sorbentG: bedMl * facts.density, holdUpMl: bedMl * facts.porosity };
}

/** Head of eluent that falls in a flash column, 2 inches a minute (Still, Kahn, Mitra 1978, from memory), cm/min. */
export const FLASH_CM_PER_MIN = 5.08;
/** Gas pressure takes about a third of the time of gravity (common practice, no source). */
export const GRAVITY_TIMES_SLOWER = 3;

/** Flow in mL/min through a diameter (mm). */
export function flowMlPerMin(diameterMm: number, drive: Drive): number {
  const flash = (Math.PI / 4) * (diameterMm / 10) ** 2 * FLASH_CM_PER_MIN;
  return drive === "pressure" ? flash : flash / GRAVITY_TIMES_SLOWER;
}

/** Grain of the sorbent for a drive. Common practice, no source. */
export function particlesFor(sorbent: Sorbent, drive: Drive): string {
  if (sorbent === "alumina") return drive === "pressure" ? "50-150 µm" : "63-200 µm";
  return drive === "pressure" ? "40-63 µm (230-400 mesh)" : "63-200 µm (70-230 mesh)";
}
