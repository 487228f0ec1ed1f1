import { priorWeight } from "./evidence.ts";

/** Where people leave origin and front when nothing is marked, as shares of the height (common practice, no source). */
export const CUSTOM_ORIGIN = { y: 0.87, sd: 0.055 };
export const CUSTOM_FRONT = { y: 0.1, sd: 0.07 };

/** How likely people draw an origin at y, 1 where most do. */
export function originPrior(y: number): number {
  return priorWeight(y, CUSTOM_ORIGIN.y, 0.085);
}

/** How likely people stop the eluent at y, 1 where most do. */
export function frontPrior(y: number): number {
  return priorWeight(y, CUSTOM_FRONT.y, 0.08);
}
