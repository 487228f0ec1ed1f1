import type { Plane } from "../../raster/picture.ts";
import type { LaneTrack } from "../frame.ts";
import type { SignalMap } from "../view.ts";
import { columnEnergy, spotEnergy } from "./energy.ts";
import { bestLattice, type Lattice } from "./lattice.ts";

export interface LaneOptions {
  /** Known number of lanes, or null. */
  readonly count: number | null;
}

export interface FoundLanes {
  readonly tracks: readonly LaneTrack[];
  /** Distance of neighbouring lanes, as a fraction of the plate's width. */
  readonly pitch: number;
}

/** Rows between which spots are looked for, as fractions of the plate's height. */
const TOP = 0.08;
const BOTTOM = 0.86;

/** Finds the lanes of a plate from the energy of its spots and even spacing. */
export function findLanes(maps: readonly SignalMap[], options: LaneOptions): FoundLanes {
  const energy = spotEnergy(maps);
  const { width, height } = energy;
  const y0 = Math.round(TOP * height);
  const y1 = Math.round(BOTTOM * height);
  const shear = bestShear(energy, y0, y1);
  const columns = columnEnergy(energy, y0, y1, shear);
  const lattice = options.count === null ? countLanes(columns) : bestLattice(columns, options.count);
  const centres = settle(columns, lattice);
  return {
    tracks: centres.map((x) => ({ x: x / width, drift: (shear * height) / width })),
    pitch: lattice.count > 1 ? lattice.pitch / width : 0.5,
  };
}

/** The lean that makes the columns' energy most uneven: lanes upright, spots above one another. */
function bestShear(energy: Plane, y0: number, y1: number): number {
  let best = { shear: 0, score: 0 };
  for (let k = -8; k <= 8; k++) {
    const shear = k * 0.0125;
    const columns = columnEnergy(energy, y0, y1, shear);
    let score = 0;
    for (const v of columns) score += v * v;
    score *= 1 - 0.004 * Math.abs(k);
    if (score > best.score) best = { shear, score };
  }
  return best.shear;
}

function countLanes(columns: Float64Array): Lattice {
  let best: Lattice | null = null;
  for (let count = 2; count <= 22; count++) {
    const trial = bestLattice(columns, count);
    const score = trial.score - 0.25 * count;
    if (!best || score > best.score) best = { ...trial, score };
  }
  return best as Lattice;
}

/** Moves each lane to the centre of its own energy, as far as there is any, within a third of a pitch. */
function settle(columns: Float64Array, lattice: Lattice): number[] {
  const typical = columns.reduce((a, b) => a + b, 0) / columns.length;
  return Array.from({ length: lattice.count }, (_, i) => {
    const x = lattice.first + i * lattice.pitch;
    let centre = x;
    for (let round = 0; round < 4; round++) {
      let sum = 0;
      let moment = 0;
      const reach = 0.36 * lattice.pitch;
      for (let c = Math.max(0, Math.floor(centre - reach)); c <= Math.min(columns.length - 1, centre + reach); c++) {
        const w = columns[c] ** 1.5;
        sum += w;
        moment += w * (c + 0.5);
      }
      const trust = sum / (sum + (0.35 * typical) ** 1.5 * reach);
      const next = sum > 0 ? trust * (moment / sum) + (1 - trust) * x : x;
      centre = Math.max(x - 0.33 * lattice.pitch, Math.min(x + 0.33 * lattice.pitch, next));
    }
    return centre;
  });
}
