import type { SpotRecipe } from "../recipe.ts";

/** Concentration at the mode of a spot: its amount over its area, one unit per square millimetre. */
export function peakConcentration(spot: SpotRecipe): number {
  return spot.amount / (spot.sigmaX * 0.5 * (spot.sigmaUp + spot.sigmaDown));
}

/** Concentration relative to the mode at (x, y) mm of the plate, 0..1. */
export function relativeConcentration(spot: SpotRecipe, x: number, y: number): number {
  const dx = x - spot.x - spot.lean * (spot.y - y);
  const dy = y - spot.y - spot.bend * dx * dx;
  const across = (dx * dx) / (2 * spot.sigmaX * spot.sigmaX);
  if (across > 12) return 0;
  if (dy <= 0) {
    const up = across + (dy * dy) / (2 * spot.sigmaUp * spot.sigmaUp);
    return up > 12 ? 0 : Math.exp(-up);
  }
  const down = (dy * dy) / (2 * spot.sigmaDown * spot.sigmaDown);
  const body = down > 12 ? 0 : (1 - spot.tail) * Math.exp(-down);
  return Math.exp(-across) * (body + spot.tail * Math.exp(-dy / spot.tailLength));
}

/** Box around a spot outside which nothing of it shows, mm. */
export function reachOf(spot: SpotRecipe): { x0: number; x1: number; y0: number; y1: number } {
  const below = Math.max(4.5 * spot.sigmaDown, spot.tail > 0 ? 7 * spot.tailLength : 0);
  const side = 4.5 * spot.sigmaX;
  const sag = spot.bend * side * side;
  const leaning = Math.abs(spot.lean) * below;
  return {
    x0: spot.x - side - leaning,
    x1: spot.x + side + leaning,
    y0: spot.y - 4.5 * spot.sigmaUp + Math.min(0, sag),
    y1: spot.y + below + Math.max(0, sag),
  };
}
