import type { Light } from "../../model/photo.ts";
import type { Colour, LampRecipe } from "../recipe.ts";

/** Colour of reflections: a UV lamp's are violet. */
export const GLARE_TINT: Readonly<Record<Light, Colour>> = {
  uv254: [0.25, 0.12, 1],
  uv365: [0.25, 0.12, 1],
  white: [1, 1, 1],
};

/**
 * Evenness of the light at a pixel, 1 at its brightest: fall-off with the distance squared from the lamp's centre,
 * vignetting with the fourth power of the distance from the frame's centre.
 */
export function lampAt(lamp: LampRecipe, width: number, height: number, x: number, y: number): number {
  const u = x / width;
  const v = y / height;
  const fx = Math.max(lamp.x * lamp.x, (1 - lamp.x) * (1 - lamp.x));
  const fy = Math.max(lamp.y * lamp.y, (1 - lamp.y) * (1 - lamp.y));
  const far = ((u - lamp.x) ** 2 + (v - lamp.y) ** 2) / (fx + fy);
  const dx = x - width / 2;
  const dy = y - height / 2;
  const r2 = (4 * (dx * dx + dy * dy)) / (width * width + height * height);
  return (1 - lamp.fall * far) * (1 - lamp.vignette * r2 * r2);
}

/** Reflected light added at a pixel, same scale as a white layer. */
export function glareAt(lamp: LampRecipe, width: number, height: number, x: number, y: number): number {
  let sum = 0;
  const long = Math.max(width, height);
  for (const { x: gx, y: gy, angle, width: wide, strength } of lamp.glare) {
    const dx = (x - gx * width) / long;
    const dy = (y - gy * height) / long;
    const across = (dx * Math.sin(angle) - dy * Math.cos(angle)) / wide;
    const along = (dx * Math.cos(angle) + dy * Math.sin(angle)) / 0.25;
    sum += strength * Math.exp(-across * across - along * along);
  }
  return sum;
}
