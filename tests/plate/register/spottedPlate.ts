import type { Quad } from "../../../src/model/index.ts";
import type { Picture } from "../../../src/raster/picture.ts";
import { canvas, expose, type Paint, paintQuad } from "../locate/scene.ts";

const SPOTS = [
  [0.2, 0.3],
  [0.4, 0.35],
  [0.6, 0.35],
  [0.4, 0.6],
  [0.8, 0.7],
];

/** A layer with spots and a pencil line, dark on green or glowing on black; or a bare one. */
function layer(glowing: boolean, bare: boolean): Paint {
  return (u, v) => {
    const spots = SPOTS.reduce((sum, [x, y]) => sum + Math.exp(-((u - x) ** 2 + (v - y) ** 2) / 0.0012), 0);
    const spot = bare ? 0 : spots;
    const pencil = !bare && Math.abs(v - 0.88) < 0.005 ? 0.75 : 1;
    return glowing
      ? [25 + 40 * spot, 20 + 90 * spot, 45 * pencil + 150 * spot]
      : [60 * pencil, pencil * 200 * Math.exp(-spot), 90 * pencil];
  };
}

/** A plate on a bench of another colour, under 254 nm or glowing under 365 nm. */
export function photoOf(quad: Quad, glowing: boolean, seed: number, bare = false): Picture {
  const on = canvas(640, 640, () => (glowing ? [12, 8, 20] : [40, 30, 70]));
  paintQuad(on, quad, layer(glowing, bare));
  return expose(on, 2, seed);
}
