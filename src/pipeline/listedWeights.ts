/** Fitted on whole readings of plates of three renderers; where they come from and how to fit anew: docs/methods/spots.md. */
export const WEIGHTS = {
  spot: [0.255, 0.985],
  plate: [-6.676, -1.849, -2.107, 1.708, -56.565, -2.048],
} as const;
