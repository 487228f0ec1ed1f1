/** Fitted on whole readings of plates of three renderers; where they come from and how to fit anew: docs/methods/spots.md. */
export const WEIGHTS = {
  spot: [-0.884, 1.243, 1.095],
  plate: [-6.831, 0.378, 1.306, -39.79, -4.383],
} as const;
