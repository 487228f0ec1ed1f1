/** Fitted on whole readings of plates of two renderers; where they come from and how to fit anew: docs/methods/spots.md. */
export const WEIGHTS = {
  spot: [0.05, 1.306],
  plate: [-4.807, -1.529, -1.893, 1.436, -72.397, -6.124],
} as const;
