import type { Light } from "../../model/photo.ts";
import type { Colour, LayerRecipe, Response, Stain } from "../recipe.ts";

/** Linear colours of a stained ground, for a layer of reflectance about 0.85. */
const STAINED_GROUND: Readonly<Record<Stain, Colour>> = {
  kmno4: [0.62, 0.26, 0.44],
  pma: [0.58, 0.62, 0.2],
  anisaldehyde: [0.84, 0.7, 0.66],
  iodine: [0.72, 0.57, 0.34],
};
const BARE_GROUND: Colour = [0.86, 0.86, 0.83];
const VIOLET: Colour = [0.018, 0.01, 0.06];
const UNLIT: Colour = [0.012, 0.009, 0.04];

/** How a layer looks under one light: the constants of `shade`. */
export interface Look {
  readonly light: Light;
  readonly stain: Stain | null;
  readonly darkest: number;
  readonly phosphor: Colour;
  /** Natural logarithm of the ground under white light. */
  readonly logGround: Colour;
}

export function lookOf(layer: LayerRecipe, light: Light, stain: Stain | null): Look {
  const [r, g, b] = stain ? STAINED_GROUND[stain] : BARE_GROUND;
  return {
    light,
    stain,
    darkest: layer.darkest,
    phosphor: layer.phosphor,
    logGround: [Math.log(r), Math.log(g), Math.log(b)],
  };
}

/** What a unit of concentration adds: to the absorbing sum, to its colour sums, and to the light sent out. */
export interface Contribution {
  readonly absorb: number;
  readonly tint: Colour;
  readonly emit: Colour;
}

const NONE: Colour = [0, 0, 0];
/** Material that stays at the origin: a little of everything. */
const RESIDUE_COLOUR: Colour = [0.35, 0.25, 0.12];

/**
 * Sums that concentration `c` of a substance (null: residue) adds under a look. Emission saturates and is quenched
 * at high load; absorption saturates later, in `shade`, where all substances of a place are added up.
 */
export function contributionOf(look: Look, response: Response | null, c: number): Contribution {
  if (look.light === "uv254") {
    const quench = response ? response.quench : 0.6;
    const glow = response?.glow;
    const g = glow ? c * Math.exp(-c / 0.55) * 1.2 : 0;
    return { absorb: quench * c, tint: NONE, emit: glow ? [glow[0] * g, glow[1] * g, glow[2] * g] : NONE };
  }
  if (look.light === "uv365") {
    const colour = response ? response.emission : ([0.15, 0.12, 0.1] as Colour);
    if (!colour) return { absorb: 0, tint: NONE, emit: NONE };
    const e = (1 - Math.exp(-1.2 * c)) * 0.8;
    return { absorb: 0, tint: NONE, emit: [colour[0] * e, colour[1] * e, colour[2] * e] };
  }
  const shown = response
    ? look.stain
      ? response.stain[look.stain]
      : response.dye
    : { strength: look.stain ? 0.6 : 0.2, colour: RESIDUE_COLOUR };
  if (!shown || shown.strength === 0) return { absorb: 0, tint: NONE, emit: NONE };
  const x = 1.1 * shown.strength * c;
  const [r, g, b] = shown.colour;
  return { absorb: x, tint: [x * Math.log(r), x * Math.log(g), x * Math.log(b)], emit: NONE };
}

/** Sums of all contributions at one place of the layer. */
export interface Sums {
  absorb: number;
  tint0: number;
  tint1: number;
  tint2: number;
  emit0: number;
  emit1: number;
  emit2: number;
}

/**
 * Linear light that a place of the layer sends to the camera, 1 = a white layer or the full glow of F254.
 * 254 nm: the phosphor behind D = Dmax (1 - exp(-x / Dmax)); 365 nm: emission over a dark layer; white light: the
 * ground's density moves towards the spot's colour by 1 - exp(-x).
 * @param ground relative evenness of the layer (1: even)
 * @param blotch relative change of the stain's density (0: even)
 * @param cover transmission of pencil, scratches and dirt
 */
export function shade(
  look: Look,
  ground: number,
  blotch: number,
  cover: number,
  s: Sums,
  out: Float32Array,
  at: number,
): void {
  if (look.light === "uv254") {
    const x = s.absorb;
    const d = look.darkest;
    const t = x > 1e-5 ? Math.exp(-Math.LN10 * d * (1 - Math.exp(-x / d))) : 1;
    const base = ground * cover * t;
    const veil = cover * (0.6 + 0.4 * t);
    out[at] = look.phosphor[0] * base + VIOLET[0] * veil + s.emit0 * cover;
    out[at + 1] = look.phosphor[1] * base + VIOLET[1] * veil + s.emit1 * cover;
    out[at + 2] = look.phosphor[2] * base + VIOLET[2] * veil + s.emit2 * cover;
    return;
  }
  if (look.light === "uv365") {
    const base = ground * cover;
    out[at] = UNLIT[0] * base + s.emit0 * cover;
    out[at + 1] = UNLIT[1] * base + s.emit1 * cover;
    out[at + 2] = UNLIT[2] * base + s.emit2 * cover;
    return;
  }
  const g = ground * cover;
  const depth = 1 + blotch;
  let l0 = look.logGround[0] * depth;
  let l1 = look.logGround[1] * depth;
  let l2 = look.logGround[2] * depth;
  const x = s.absorb;
  if (x > 1e-5) {
    const mix = 1 - Math.exp(-x);
    l0 += (s.tint0 / x - l0) * mix;
    l1 += (s.tint1 / x - l1) * mix;
    l2 += (s.tint2 / x - l2) * mix;
  }
  out[at] = g * Math.exp(l0);
  out[at + 1] = g * Math.exp(l1);
  out[at + 2] = g * Math.exp(l2);
}
