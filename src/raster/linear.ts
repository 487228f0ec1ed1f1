/**
 * sRGB to linear light, IEC 61966-2-1: c <= 0.04045: c / 12.92, else ((c + 0.055) / 1.055) ^ 2.4.
 * @param c encoded value, 0..1
 * @returns linear value, 0..1
 */
export function srgbToLinear(c: number): number {
  return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
}

/** Inverse of `srgbToLinear` (IEC 61966-2-1), clamped to 0..1. */
export function linearToSrgb(v: number): number {
  if (v <= 0) return 0;
  if (v >= 1) return 1;
  return v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055;
}

/** Linear light of each 8-bit code, 0..1. */
export const LINEAR_OF_CODE: Float32Array = Float32Array.from({ length: 256 }, (_, i) => srgbToLinear(i / 255));
