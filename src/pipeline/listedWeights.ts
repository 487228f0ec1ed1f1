/** Fitted on whole readings of plates of six renderers; where they come from and how to fit anew: docs/methods/spots.md. */
export const WEIGHTS = {
  spot: [-0.094, 0.929, 0.69],
  plate: [0.147, 0.489, 0.2, -32.96, -6.293],
} as const;
