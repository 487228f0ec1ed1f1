import { normalDeviate } from "../../../src/math/random.ts";

/** One substance of the simulated column. */
export interface SimSubstance {
  readonly rf: number;
  /** Amount in each tube (index 0 is tube 1), in arbitrary mass units. */
  readonly tubes: readonly number[];
  /** Amount in the crude lane, same unit. */
  readonly crude: number;
  /** Signal per unit of mass under uv254, uv365 and white. */
  readonly response: Readonly<Record<"uv254" | "uv365" | "white", number>>;
  readonly hue: readonly [number, number, number];
}

export interface SimColumn {
  readonly tubes: number;
  readonly substances: readonly SimSubstance[];
}

type Uniform = () => number;
const between = (u: Uniform, low: number, high: number) => low + (high - low) * u();

/** Rf values, falling; close pairs 0.03 to 0.05 apart with the given chance, else at least 0.06 apart. */
function drawRf(u: Uniform, count: number, closeChance: number): number[] {
  for (;;) {
    const rf = [between(u, 0.1, 0.8)];
    for (let tries = 0; rf.length < count && tries < 200; tries++) {
      const near = u() < closeChance;
      const next = near
        ? rf[Math.floor(u() * rf.length)] + (u() < 0.5 ? -1 : 1) * between(u, 0.03, 0.05)
        : between(u, 0.08, 0.82);
      const gap = Math.min(...rf.map((r) => Math.abs(r - next)));
      if (next > 0.06 && next < 0.88 && gap >= (near ? 0.0299 : 0.06)) rf.push(next);
    }
    if (rf.length === count) return rf.sort((a, b) => b - a);
  }
}

/** A tailed peak by convolving a Gaussian with an exponential on a fine grid: independent of the code it judges. */
function tailedPeak(tubes: number, centre: number, sigma: number, tau: number): number[] {
  const out = new Array<number>(tubes).fill(0);
  const steps = 40;
  for (let s = 0; s < steps; s++) {
    const delay = -tau * Math.log(1 - (s + 0.5) / steps);
    for (let t = 0; t < tubes; t++) {
      for (let q = 0; q < 5; q++) {
        const z = (t + 0.6 + 0.2 * q - centre - delay) / sigma;
        out[t] += Math.exp(-0.5 * z * z) / (sigma * Math.sqrt(2 * Math.PI)) / (5 * steps);
      }
    }
  }
  return out;
}

/** A column run: substances elute in tailed peaks in the order of falling Rf. */
export function simulateColumn(u: Uniform, tubes: number, closeChance: number): SimColumn {
  const count = 2 + Math.floor(u() * 5);
  const rf = drawRf(u, count, closeChance);
  const power = between(u, 0.6, 1.1);
  const way = rf.map((r) => r ** -power);
  const first = between(u, 0.08, 0.2) * tubes;
  const last = between(u, 0.7, 0.95) * tubes;
  const span = Math.max(way[count - 1] - way[0], 0.6);
  const sharp = between(u, 0.02, 0.05) * tubes;
  const tail = between(u, 0.2, 1.6);
  const substances = rf.map((r, k) => {
    const centre = first + ((last - first) * (way[k] - way[0])) / span;
    const sigma = Math.max(0.45, sharp * (0.6 + (0.6 * centre) / tubes) * between(u, 0.8, 1.25));
    const stays = r < 0.15 && u() < 0.3;
    const load = 10 ** between(u, 0, 2);
    const shape = tailedPeak(tubes, centre, sigma, tail * sigma * between(u, 0.6, 1.5));
    const seen = (chance: number) => (u() < chance ? Math.exp(0.4 * normalDeviate(u)) : 0.01);
    return {
      rf: r,
      tubes: shape.map((a) => (stays ? 0 : a * load)),
      crude: load,
      response: { uv254: seen(0.88), uv365: seen(0.45), white: seen(0.9) },
      hue: [0.4 + 0.6 * u(), 0.4 + 0.6 * u(), 0.4 + 0.6 * u()] as const,
    };
  });
  return { tubes, substances };
}
