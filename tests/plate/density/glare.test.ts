import { describe, expect, it } from "vitest";
import { takeGlareOut } from "../../../src/plate/density/glare.ts";
import { density } from "../../../src/plate/density/index.ts";
import type { LinearView } from "../../../src/plate/view.ts";
import { type DrawnSpot, drawPlate, lampAside, lineAcross } from "./drawnPlate.ts";

const SPOT = { sigmaU: 0.03, sigmaV: 0.018, strength: [0.2, 0.3, 0.25] as const };
/** One under the streak, one beside it. */
const SPOTS: DrawnSpot[] = [
  { u: 0.5, v: 0.5, ...SPOT },
  { u: 0.15, v: 0.5, ...SPOT },
];

/** The light of a tube added to a plate: a slanted band from edge to edge that fades downwards. */
function underTube(view: LinearView, light: number): LinearView {
  const { width, height } = view.r;
  const lit = (plane: LinearView["r"]) => ({
    ...plane,
    data: plane.data.map((value, i) => {
      const [u, v] = [((i % width) + 0.5) / width, (Math.floor(i / width) + 0.5) / height];
      const off = (u - 0.5 - 0.6 * (v - 0.5)) / 0.05;
      return value + light * (1 - 0.5 * v) * Math.exp(-0.5 * off * off);
    }),
  });
  return { ...view, r: lit(view.r), g: lit(view.g), b: lit(view.b) };
}

const highest = ({ width, height, data }: LinearView["r"], { u, v }: DrawnSpot): number => {
  let top = 0;
  for (let dy = -4; dy <= 4; dy++)
    for (let dx = -4; dx <= 4; dx++)
      top = Math.max(top, data[(Math.round(v * height) + dy) * width + Math.round(u * width) + dx]);
  return top;
};

describe("a streak of glare", () => {
  const plate = drawPlate({ lamp: lampAside, spots: SPOTS, strokes: [lineAcross(0.1), lineAcross(0.87)] });

  it("is taken out, and a spot that lies below it reads as one beside it does", () => {
    const { mix } = density(underTube(plate, 0.15));
    const [below, beside] = SPOTS.map((spot) => highest(mix, spot));
    expect(below / beside).toBeGreaterThan(0.85);
    expect(below / beside).toBeLessThan(1.15);
  });

  it("leaves the light of the layer as it was", () => {
    const clean = takeGlareOut(underTube(plate, 0.15));
    const off = clean.g.data.map((v, i) => Math.abs(v - plate.g.data[i])).sort();
    expect(off[Math.floor(0.95 * off.length)]).toBeLessThan(0.02);
  });

  it("is not seen where there is none", () => {
    expect(takeGlareOut(plate)).toBe(plate);
  });

  it("is no row of glowing spots that touch", () => {
    const row = Array.from({ length: 9 }, (_, i) => ({
      ...{ u: 0.06 + 0.11 * i, v: 0.3 + 0.03 * i, sigmaU: 0.03, sigmaV: 0.02 },
      strength: [0.1, 0.2, 0.5] as const,
    }));
    const glowing = drawPlate({ light: "uv365", ground: [0.02, 0.02, 0.06], spots: row });
    expect(takeGlareOut(glowing)).toBe(glowing);
  });
});
