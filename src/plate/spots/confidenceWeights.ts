/** Fitted on development plates of four renderers; where they come from: docs/methods/spots.md. */
export const WEIGHTS: readonly number[] = [
  -4.642, 1.249, -1.352, 0.651, 5.028, -8.893, -4.223, -5.222, -1.385, 0.016, 0.444, 0.696, -1.675, -0.224, -1.649,
  1.758, 6.927, -5.085, -3.52, 0.592, -2.156, -12.343,
];
