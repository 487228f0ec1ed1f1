/** Fitted on whole readings of plates of three renderers; where they come from and how to fit anew: docs/methods/spots.md. */
export const WEIGHTS = {
  spot: [-1.018, 1.282, 1.062],
  plate: [-6.59, 0.38, 1.267, -42.572, -3.973],
} as const;
