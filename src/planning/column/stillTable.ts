/** One line of the table; 15 cm of 40-63 um silica. */
export interface FlashRow {
  readonly diameterMm: number;
  /** Eluent for packing and running, mL. */
  readonly eluentMl: number;
  /** Sample that separates at a difference of Rf of 0.2 or more, and of 0.1, mg. */
  readonly loadAt02Mg: number;
  readonly loadAt01Mg: number;
  readonly fractionMl: number;
}

/** W. C. Still, M. Kahn, A. Mitra, J. Org. Chem. 1978, 43, 2923, table 1 (from memory). */
export const FLASH_TABLE: readonly FlashRow[] = [
  { diameterMm: 10, eluentMl: 100, loadAt02Mg: 100, loadAt01Mg: 40, fractionMl: 5 },
  { diameterMm: 20, eluentMl: 200, loadAt02Mg: 400, loadAt01Mg: 160, fractionMl: 10 },
  { diameterMm: 30, eluentMl: 400, loadAt02Mg: 900, loadAt01Mg: 360, fractionMl: 20 },
  { diameterMm: 40, eluentMl: 600, loadAt02Mg: 1600, loadAt01Mg: 600, fractionMl: 30 },
  { diameterMm: 50, eluentMl: 1000, loadAt02Mg: 2500, loadAt01Mg: 1000, fractionMl: 50 },
];

/** Bed height of the table, cm. */
export const FLASH_BED_CM = 15;

type Column = "eluentMl" | "loadAt02Mg" | "loadAt01Mg" | "fractionMl";

/**
 * A column of the table at a diameter (mm, > 0): linear in the cross-section between the lines, in proportion to it
 * beyond the first and the last.
 */
export function flashValue(diameterMm: number, column: Column): number {
  const area = diameterMm ** 2;
  const first = FLASH_TABLE[0];
  const last = FLASH_TABLE[FLASH_TABLE.length - 1];
  if (diameterMm <= first.diameterMm) return (first[column] * area) / first.diameterMm ** 2;
  if (diameterMm >= last.diameterMm) return (last[column] * area) / last.diameterMm ** 2;
  const upper = FLASH_TABLE.findIndex((row) => row.diameterMm >= diameterMm);
  const [a, b] = [FLASH_TABLE[upper - 1], FLASH_TABLE[upper]];
  const t = (area - a.diameterMm ** 2) / (b.diameterMm ** 2 - a.diameterMm ** 2);
  return a[column] + t * (b[column] - a[column]);
}

/**
 * Load limit in mg at a diameter (mm) and a difference of Rf: the table at 0.1 and at 0.2, linear between, no more
 * above 0.2, in proportion to the difference below 0.1 (outside the table).
 */
export function loadLimitMg(diameterMm: number, deltaRf: number): number {
  const at01 = flashValue(diameterMm, "loadAt01Mg");
  if (deltaRf <= 0.1) return (at01 * Math.max(0, deltaRf)) / 0.1;
  const at02 = flashValue(diameterMm, "loadAt02Mg");
  return at01 + Math.min(1, (deltaRf - 0.1) / 0.1) * (at02 - at01);
}

/** Smallest diameter (mm) that carries a load (mg > 0) at a difference of Rf (> 0); the limit grows with the diameter. */
export function neededDiameterMm(loadMg: number, deltaRf: number): number {
  let low = 0;
  let high = 10;
  while (loadLimitMg(high, deltaRf) < loadMg) high *= 2;
  for (let i = 0; i < 60; i++) {
    const mid = (low + high) / 2;
    if (loadLimitMg(mid, deltaRf) < loadMg) low = mid;
    else high = mid;
  }
  return high;
}
