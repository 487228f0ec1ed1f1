import type { Chance } from "../chance.ts";
import type { LevelSettings } from "../levels.ts";
import type { Colour, LayerRecipe, PlateRecipe } from "../recipe.ts";

/** What all plates cut from one sheet share. */
export interface Sheet {
  /** Linear colour of the F254 glow, green 1. */
  readonly phosphor: Colour;
  /** Largest density that quenching can reach. */
  readonly darkest: number;
}

export function drawSheet(chance: Chance): Sheet {
  return {
    phosphor: [chance.uniform(0.07, 0.22), 1, chance.uniform(0.12, 0.36)],
    darkest: chance.uniform(0.8, 1.3),
  };
}

/** Draws the layer: its texture, what the solvent did to it, and what has happened to it since. */
export function drawLayer(
  chance: Chance,
  plate: Pick<PlateRecipe, "width" | "height" | "frontMark">,
  sheet: Sheet,
  settings: LevelSettings,
): LayerRecipe {
  const { width, height, frontMark } = plate;
  const at = () => ({ x: chance.uniform(0, width), y: chance.uniform(0, height) });
  const scratches = Array.from({ length: chance.count(settings.scratches) }, () => {
    const { x, y } = at();
    const angle = chance.uniform(0, Math.PI);
    const length = chance.logUniform(2, 30);
    const curl = chance.normal(0, 0.3);
    const points = Array.from({ length: 6 }, (_, i): readonly [number, number] => {
      const s = (length * i) / 5;
      return [x + s * Math.cos(angle + (curl * i) / 5), y + s * Math.sin(angle + (curl * i) / 5)];
    });
    return { points, width: chance.logUniform(0.08, 0.35), density: chance.uniform(-0.08, 0.3) };
  });
  const smudges = Array.from({ length: chance.count(settings.smudges) }, () => ({
    ...at(),
    rx: chance.logUniform(3, 15),
    ry: chance.logUniform(3, 15),
    change: chance.normal(0, 0.05),
  }));
  const dust = Array.from({ length: chance.count(settings.dust) }, () => ({
    ...at(),
    r: chance.logUniform(0.06, 0.28),
    bright: chance.uniform(-0.7, 0.7),
  }));
  const chips = Array.from({ length: chance.count(settings.chips) }, () => ({
    corner: chance.integer(0, 3) as 0 | 1 | 2 | 3,
    a: chance.uniform(1, 6),
    b: chance.uniform(1, 6),
  }));
  const sign = chance.happens(0.8) ? -1 : 1;
  const band = frontMark === "band" ? 1 : frontMark === "faint" ? 0.35 : frontMark === "line" ? 0.5 : 0;
  return {
    grain: chance.uniform(...settings.grain),
    grainSize: chance.uniform(0.1, 0.25),
    blotch: chance.uniform(...settings.blotch),
    stainBlotch: chance.uniform(...settings.stainBlotch),
    patchy: chance.uniform(...settings.patchy),
    ...sheet,
    wet: sign * band * chance.uniform(0.02, 0.07),
    wetLine: sign * band * chance.uniform(0.04, 0.14),
    wetWidth: chance.uniform(0.4, 1.4),
    scratches,
    smudges,
    dust,
    chips,
    ragged: chance.logUniform(0.02, 0.2),
    seed: chance.seed(),
  };
}
