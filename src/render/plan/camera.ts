import type { Light } from "../../model/photo.ts";
import type { Chance } from "../chance.ts";
import type { LevelSettings } from "../levels.ts";
import type { CameraRecipe, Colour, LampRecipe } from "../recipe.ts";

/** Draws the evenness of the light and its reflections. */
export function drawLamp(chance: Chance, settings: LevelSettings): LampRecipe {
  return {
    x: chance.uniform(-0.1, 1.1),
    y: chance.uniform(-0.1, 1.1),
    fall: chance.uniform(...settings.lampFall),
    vignette: chance.uniform(...settings.vignette),
    glare: Array.from({ length: chance.count(settings.glare) }, () => ({
      x: chance.uniform(0.1, 0.9),
      y: chance.uniform(0.1, 0.9),
      angle: chance.uniform(0, Math.PI),
      width: chance.uniform(0.01, 0.06),
      strength: chance.logUniform(0.02, 0.25),
    })),
  };
}

/** Draws exposure, white balance, noise, focus and the camera's own picture processing. */
export function drawCamera(chance: Chance, light: Light, settings: LevelSettings): CameraRecipe {
  const dim = light === "uv365" ? 2.5 : 1;
  const exposure =
    light === "uv254"
      ? chance.logUniform(...settings.green)
      : light === "white"
        ? chance.uniform(...settings.white)
        : chance.logUniform(0.6, 2);
  const warm = chance.normal(0, 0.06);
  const balance: Colour = [1 + warm, 1, 1 - warm + chance.normal(0, 0.03)];
  return {
    exposure,
    balance,
    fullWell: chance.logUniform(...settings.fullWell) / dim,
    readNoise: chance.logUniform(...settings.readNoise) * (light === "uv365" ? 1.5 : 1),
    blur: chance.uniform(...settings.blur),
    tone: chance.uniform(...settings.tone),
    sharpen: chance.uniform(...settings.sharpen),
    seed: chance.seed(),
  };
}
