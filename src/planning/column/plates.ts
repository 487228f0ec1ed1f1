import { flashValue } from "./stillTable.ts";

/**
 * Theoretical plates of a hand-packed flash column that carries its load limit at a difference of Rf of 0.1.
 * Derived from Still's table, not printed in it: at the limits of the table a pair around Rf 0.35 shall come off with
 * R_S = 1. For Rf 0.35 and 0.25 this asks for N of about 140, for 0.45 and 0.25 at the 2.5 times larger load for about
 * 50: N falls about as the load grows.
 */
export const LIMIT_PLATES = 150;

const FEWEST = 20;
const MOST = 200;

/** Theoretical plates expected at a load (mg, >= 0) on a diameter (mm); 20 to 200. */
export function expectedPlates(loadMg: number, diameterMm: number): number {
  const relative = loadMg / flashValue(diameterMm, "loadAt01Mg");
  return Math.min(MOST, Math.max(FEWEST, LIMIT_PLATES / Math.max(relative, 1e-6)));
}
