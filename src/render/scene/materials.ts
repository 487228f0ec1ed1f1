import type { Light } from "../../model/photo.ts";
import type { BenchKind } from "../levels.ts";
import type { Colour, Thing } from "../recipe.ts";

type ByLight = Readonly<Record<Light, Colour>>;

/** Linear light of bench tops. Paper and tissue carry optical brighteners, so they shine under UV. */
export const BENCH: Readonly<
  Record<BenchKind, ByLight & { readonly texture: number; readonly alongX: number; readonly alongY: number }>
> = {
  frame: {
    uv254: [0.01, 0.01, 0.04],
    uv365: [0.004, 0.003, 0.014],
    white: [0.7, 0.7, 0.7],
    texture: 0.01,
    alongX: 0.2,
    alongY: 0.2,
  },
  black: {
    uv254: [0.007, 0.006, 0.022],
    uv365: [0.004, 0.003, 0.012],
    white: [0.03, 0.03, 0.032],
    texture: 0.12,
    alongX: 1,
    alongY: 1,
  },
  violet: {
    uv254: [0.022, 0.013, 0.1],
    uv365: [0.014, 0.008, 0.07],
    white: [0.05, 0.055, 0.12],
    texture: 0.08,
    alongX: 0.4,
    alongY: 0.4,
  },
  steel: {
    uv254: [0.05, 0.045, 0.14],
    uv365: [0.03, 0.022, 0.13],
    white: [0.36, 0.37, 0.38],
    texture: 0.07,
    alongX: 0.05,
    alongY: 4,
  },
  wood: {
    uv254: [0.02, 0.012, 0.03],
    uv365: [0.03, 0.02, 0.04],
    white: [0.4, 0.25, 0.13],
    texture: 0.22,
    alongX: 0.06,
    alongY: 1.1,
  },
  paper: {
    uv254: [0.1, 0.13, 0.42],
    uv365: [0.2, 0.28, 0.85],
    white: [0.8, 0.8, 0.78],
    texture: 0.015,
    alongX: 1,
    alongY: 1,
  },
  grey: {
    uv254: [0.014, 0.013, 0.05],
    uv365: [0.01, 0.007, 0.035],
    white: [0.24, 0.245, 0.25],
    texture: 0.1,
    alongX: 2.2,
    alongY: 2.2,
  },
  tissue: {
    uv254: [0.08, 0.1, 0.33],
    uv365: [0.16, 0.22, 0.7],
    white: [0.74, 0.735, 0.72],
    texture: 0.1,
    alongX: 0.3,
    alongY: 0.3,
  },
};

export const THING: Readonly<Record<Thing["kind"] | "skin" | "ink", ByLight>> = {
  paper: { uv254: [0.09, 0.12, 0.4], uv365: [0.18, 0.26, 0.8], white: [0.82, 0.82, 0.8] },
  ruler: { uv254: [0.05, 0.05, 0.14], uv365: [0.06, 0.07, 0.2], white: [0.62, 0.58, 0.4] },
  ink: { uv254: [0.006, 0.005, 0.02], uv365: [0.004, 0.003, 0.012], white: [0.04, 0.04, 0.05] },
  pen: { uv254: [0.02, 0.012, 0.06], uv365: [0.02, 0.012, 0.08], white: [0.06, 0.09, 0.35] },
  finger: { uv254: [0.014, 0.014, 0.08], uv365: [0.02, 0.03, 0.17], white: [0.06, 0.13, 0.42] },
  skin: { uv254: [0.035, 0.018, 0.06], uv365: [0.05, 0.035, 0.1], white: [0.55, 0.33, 0.24] },
};
