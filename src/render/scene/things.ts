import type { Light } from "../../model/photo.ts";
import type { Thing } from "../recipe.ts";
import { THING } from "./materials.ts";

/** Mixes a thing over the colour in `out`, where it covers the place (x, y) in bench mm. */
export type ThingPainter = (x: number, y: number, out: Float64Array) => void;

const clamp = (v: number) => Math.min(1, Math.max(0, v));

/**
 * @param sharp pixels per mm, for soft edges of about a pixel
 */
export function thingPainter(thing: Thing, light: Light, sharp: number): ThingPainter {
  const [c, s] = [Math.cos(thing.turn), Math.sin(thing.turn)];
  const [hw, hh] = [thing.w / 2, thing.h / 2];
  const reach = Math.hypot(hw, hh) + 2;
  const round = thing.kind === "paper" || thing.kind === "ruler" ? 0.2 : hw;
  const base = THING[thing.kind === "finger" && !thing.glove ? "skin" : thing.kind][light];
  const ink = THING.ink[light];
  return (x, y, out) => {
    const [dx, dy] = [x - thing.x, y - thing.y];
    if (dx * dx + dy * dy > reach * reach) return;
    const u = c * dx + s * dy;
    const v = -s * dx + c * dy;
    const qx = Math.abs(u) - hw + round;
    const qy = Math.abs(v) - hh + round;
    const d = Math.hypot(Math.max(qx, 0), Math.max(qy, 0)) + Math.min(Math.max(qx, qy), 0) - round;
    const alpha = clamp(0.5 - d * sharp);
    if (alpha === 0) {
      // contact shadow
      if (d < 3) {
        const dim = 1 - 0.25 * Math.exp(-d / 0.9);
        for (let ch = 0; ch < 3; ch++) out[ch] *= dim;
      }
      return;
    }
    const depth = round > 1 ? Math.sqrt(clamp(-d / round) * (2 - clamp(-d / round))) : 1;
    let shine = round > 1 ? 0.45 + 0.55 * depth : 1;
    let dark = 0;
    if (thing.kind === "ruler") {
      const fromTop = v + hh;
      const nearest = Math.round(fromTop);
      const length = nearest % 10 === 0 ? 7 : nearest % 5 === 0 ? 5 : 3.2;
      if (u + hw < length) dark = clamp((0.14 - Math.abs(fromTop - nearest)) * sharp + 0.5) * 0.85;
    }
    if (thing.kind === "pen" && v > hh - 12) shine *= 0.3;
    for (let ch = 0; ch < 3; ch++) {
      const colour = base[ch] * shine * (1 - dark) + ink[ch] * dark;
      out[ch] += (colour - out[ch]) * alpha;
    }
  };
}
