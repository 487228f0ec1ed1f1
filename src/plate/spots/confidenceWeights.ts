/** Fitted on development plates of two renderers; where they come from: docs/methods/spots.md. */
export const WEIGHTS: readonly number[] = [
  -1.43, 0.639, -0.61, 0.799, 3.485, -12.164, -6.032, -6.842, -1.14, -0.569, 0.495, 0.863, -1.441, -0.323, -2.646,
  3.772, 1.704, -4.883, -6.991, -1.074, -1.744, -10.797,
];
