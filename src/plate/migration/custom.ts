/**
 * Where people leave origin and front of which nothing shows, as shares of the height (common practice, no source; spread and middle
 * as on hard plates of three renderers).
 */
export const CUSTOM_ORIGIN = { y: 0.845, sd: 0.05 };
export const CUSTOM_FRONT = { y: 0.12, sd: 0.04 };
/** The front of a solvent that ran to the end of the plate. */
export const OFF_PLATE = { y: 0, sd: 0.002 };
