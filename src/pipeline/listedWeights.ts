/** Fitted on whole readings of plates of eight renderers; where they come from and how to fit anew: docs/methods/spots.md. */
export const WEIGHTS = {
  spot: [-0.274, 0.906, 0.789],
  plate: [-0.871, 0.489, 0.457, -33.227, -5.796],
} as const;
