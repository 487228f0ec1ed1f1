import type { Chance } from "../chance.ts";
import type { LevelSettings } from "../levels.ts";
import type { Thing } from "../recipe.ts";

/**
 * Draws what else lies on the bench. Fingers reach over an edge by some millimetres; all else keeps off the plates.
 * @param span of all plates, bench mm
 */
export function drawThings(
  chance: Chance,
  span: { x0: number; y0: number; w: number; h: number },
  settings: LevelSettings,
): Thing[] {
  const things: Thing[] = [];
  const { x0, y0, w, h } = span;
  const [cx, cy] = [x0 + w / 2, y0 + h / 2];
  if (chance.happens(settings.ruler)) {
    const side = chance.pick([-1, 1]);
    things.push({
      kind: "ruler",
      x: cx + side * (w / 2 + chance.uniform(11, 22)),
      y: cy + chance.uniform(-8, 8),
      w: 16,
      h: h * chance.uniform(1.2, 2.2),
      turn: chance.normal(0, 0.05),
    });
  }
  if (chance.happens(settings.pen)) {
    const side = chance.pick([-1, 1]);
    things.push({
      kind: "pen",
      x: cx + chance.uniform(-20, 20),
      y: cy + side * (h / 2 + chance.uniform(9, 18)),
      w: 7,
      h: 130,
      turn: Math.PI / 2 + chance.normal(0, 0.12),
    });
  }
  if (chance.happens(settings.fingers)) {
    const side = chance.pick([-1, 1]);
    const reach = chance.uniform(1, 4);
    const wide = chance.uniform(13, 17);
    things.push({
      kind: "finger",
      x: cx + side * (w / 2 - reach + 30),
      y: y0 + h * chance.uniform(0.15, 0.85),
      w: wide,
      h: 60,
      turn: (side * -Math.PI) / 2 + chance.normal(0, 0.25),
      glove: chance.happens(0.75),
    });
  }
  return things;
}
