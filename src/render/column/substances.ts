import type { Light } from "../../model/photo.ts";
import type { Chance } from "../chance.ts";
import type { Colour, Response, Stain } from "../recipe.ts";

/** Blue and cyan glows are the commonest: listed more often. */
const GLOWS: readonly Colour[] = [
  [0.12, 0.35, 1],
  [0.1, 0.75, 0.95],
  [0.16, 0.4, 1],
  [0.12, 0.6, 1],
  [0.35, 0.9, 0.4],
  [0.8, 0.85, 0.18],
  [1, 0.45, 0.12],
  [0.5, 0.2, 0.9],
];
const ANISALDEHYDE: readonly Colour[] = [
  [0.35, 0.12, 0.3],
  [0.15, 0.2, 0.45],
  [0.5, 0.28, 0.12],
  [0.2, 0.32, 0.22],
  [0.55, 0.15, 0.18],
];
const DYES: readonly Colour[] = [
  [0.85, 0.7, 0.12],
  [0.8, 0.42, 0.15],
  [0.75, 0.25, 0.3],
  [0.25, 0.35, 0.7],
];

function jittered(chance: Chance, colour: Colour, spread: number): Colour {
  const [r, g, b] = colour;
  const turn = () => Math.min(1, Math.exp(chance.normal(Math.log(1), spread)));
  return [r * turn(), g * turn(), b * turn()];
}

function scaled([r, g, b]: Colour, by: number): Colour {
  return [r * by, g * by, b * by];
}

/** True where a substance shows under a light (after the stain, where the plate is stained). */
export function shows(response: Response, light: Light, stain: Stain | null): boolean {
  if (light === "uv254") return response.quench > 0 || response.glow !== null;
  if (light === "uv365") return response.emission !== null;
  return stain === null ? response.dye !== null : response.stain[stain].strength > 0;
}

/**
 * Draws how a substance shows.
 * @param needed light and stain of the run's main photos: nearly every substance shows there
 */
export function drawResponse(chance: Chance, needed: { light: Light; stain: Stain | null }): Response {
  const strength = () => Math.exp(chance.normal(0, 0.3));
  const hidden = (light: Light) => chance.happens(needed.light === light ? 0.04 : 0.18);
  const glows = chance.happens(0.1);
  const emits = needed.light === "uv365" ? !hidden("uv365") : chance.happens(0.45);
  const dyed = chance.happens(needed.light === "white" && needed.stain === null ? 0.95 : 0.12);
  const stained = (colour: Colour) => ({
    strength: hidden("white") ? 0 : strength(),
    colour: jittered(chance, colour, 0.15),
  });
  return {
    quench: hidden("uv254") ? 0 : strength(),
    glow: glows ? scaled(jittered(chance, GLOWS[chance.integer(0, 1)], 0.1), chance.uniform(0.3, 1.2)) : null,
    emission: emits ? scaled(jittered(chance, chance.pick(GLOWS), 0.15), strength()) : null,
    stain: {
      kmno4: stained([0.56, 0.38, 0.1]),
      pma: stained([0.03, 0.1, 0.13]),
      anisaldehyde: stained(chance.pick(ANISALDEHYDE)),
      iodine: stained([0.34, 0.17, 0.05]),
    },
    dye: dyed ? { strength: strength() * 0.7, colour: jittered(chance, chance.pick(DYES), 0.1) } : null,
  };
}
