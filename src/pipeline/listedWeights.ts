/** Fitted on whole readings of plates of two renderers; where they come from and how to fit anew: docs/methods/spots.md. */
export const WEIGHTS = {
  spot: [0.129, 1.211],
  plate: [-3.591, -1.457, -2.028, 1.231, -71.918, -6.038],
} as const;
