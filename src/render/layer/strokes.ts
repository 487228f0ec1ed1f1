import type { Plane } from "../../raster/picture.ts";
import type { Stroke } from "../recipe.ts";

/** Distance from a point to the segment a-b, all in one unit. */
function toSegment(px: number, py: number, ax: number, ay: number, bx: number, by: number): number {
  const [dx, dy] = [bx - ax, by - ay];
  const t = Math.min(1, Math.max(0, ((px - ax) * dx + (py - ay) * dy) / (dx * dx + dy * dy + 1e-12)));
  return Math.hypot(px - ax - t * dx, py - ay - t * dy);
}

/**
 * Draws strokes into a plane of optical densities (the stronger of old and new stays).
 * @param scale pixels per mm
 * @param broken 0..1: how much the layer's grain breaks the stroke up
 */
export function drawStrokes(
  plane: Plane,
  strokes: readonly Stroke[],
  scale: number,
  broken: number,
  normal: () => number,
): void {
  const { width, height, data } = plane;
  for (const { points, width: thick, density } of strokes) {
    const half = thick / 2;
    const soft = Math.max(0.1, 0.6 / scale);
    const reach = half + soft;
    for (let s = 0; s + 1 < points.length; s++) {
      const [ax, ay] = points[s];
      const [bx, by] = points[s + 1];
      const x0 = Math.max(0, Math.floor((Math.min(ax, bx) - reach) * scale));
      const x1 = Math.min(width - 1, Math.ceil((Math.max(ax, bx) + reach) * scale));
      const y0 = Math.max(0, Math.floor((Math.min(ay, by) - reach) * scale));
      const y1 = Math.min(height - 1, Math.ceil((Math.max(ay, by) + reach) * scale));
      for (let y = y0; y <= y1; y++)
        for (let x = x0; x <= x1; x++) {
          const d = toSegment((x + 0.5) / scale, (y + 0.5) / scale, ax, ay, bx, by);
          if (d >= reach) continue;
          const cover = Math.min(1, (reach - d) / (2 * soft));
          const value = density * cover * Math.max(0, 1 - broken + broken * 0.8 * normal());
          const at = y * width + x;
          if (Math.abs(value) > Math.abs(data[at])) data[at] = value;
        }
    }
  }
}
