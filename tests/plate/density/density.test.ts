import { describe, expect, it } from "vitest";
import { density } from "../../../src/plate/density/index.ts";
import type { SignalMap } from "../../../src/plate/view.ts";
import type { Plane } from "../../../src/raster/picture.ts";
import { type DrawnSpot, drawPlate, lampAside, lineAcross } from "./drawnPlate.ts";

/** Mean over a small square around a place in plate fractions. */
function around({ width, height, data }: Plane, u: number, v: number, reach = 2): number {
  let sum = 0;
  let n = 0;
  for (let y = Math.round(v * height) - reach; y < Math.round(v * height) + reach; y++)
    for (let x = Math.round(u * width) - reach; x < Math.round(u * width) + reach; x++, n++) sum += data[y * width + x];
  return sum / n;
}

const round = { sigmaU: 0.028, sigmaV: 0.021 };
/** Densities 0.05 to 0.6 in the channel that shows them best, alike in hue, over the whole plate. */
const spots: DrawnSpot[] = [
  [0.2, 0.3, 0.6],
  [0.5, 0.25, 0.3],
  [0.8, 0.35, 0.1],
  [0.2, 0.6, 0.05],
  [0.5, 0.65, 0.15],
  [0.8, 0.62, 0.4],
  [0.35, 0.45, 0.2],
  [0.65, 0.5, 0.08],
].map(([u, v, d]) => ({ u, v, ...round, strength: [0.5 * d, d, 0.8 * d] }));
const top = (s: DrawnSpot) => Math.max(...s.strength.map(Math.abs));

/** Where no spot is. */
const bare = [
  [0.1, 0.1],
  [0.9, 0.1],
  [0.1, 0.9],
  [0.9, 0.9],
  [0.5, 0.45],
  [0.35, 0.75],
  [0.9, 0.5],
] as const;

function expectDensities(map: SignalMap, expected: readonly { u: number; v: number; d: number }[]): void {
  for (const { u, v, d } of expected) {
    const got = around(map.mix, u, v);
    expect(Math.abs(got - d), `density ${d} at ${u}, ${v}: ${got}`).toBeLessThan(0.06 * d + 0.006);
  }
}

describe("optical density under 254 nm and white light", () => {
  it.each([
    ["uv254", [0.12, 0.6, 0.2]],
    ["white", [0.7, 0.66, 0.6]],
  ] as const)("is right within a few per cent under an uneven lamp (%s)", (light, ground) => {
    const map = density(drawPlate({ light, ground, lamp: lampAside, spots }));
    expectDensities(
      map,
      spots.map((s) => ({ u: s.u, v: s.v, d: top(s) })),
    );
    for (const [u, v] of bare) expect(Math.abs(around(map.mix, u, v, 5)), `bare at ${u}, ${v}`).toBeLessThan(0.01);
  });

  it("keeps each channel's own density, for the hue", () => {
    const map = density(drawPlate({ lamp: lampAside, spots }));
    for (const s of spots)
      s.strength.forEach((d, c) => {
        expect(Math.abs(around(map.channels[c], s.u, s.v) - d)).toBeLessThan(0.06 * d + 0.008);
      });
  });

  it("states the noise of its ground at the size of a small spot", () => {
    const quiet = density(drawPlate({ spots, noise: 0.005 }));
    const loud = density(drawPlate({ spots, noise: 0.03 }));
    expect(loud.noise / quiet.noise).toBeGreaterThan(2);
    expect(loud.noise).toBeLessThan(0.03);
  });
});

describe("clipped light", () => {
  it("leaves a clipped green channel out: densities are those of red and blue", () => {
    const map = density(drawPlate({ ground: [0.3, 2.4, 0.4], lamp: lampAside, spots }));
    expect(map.usable[1]).toBeLessThan(0.2);
    expect(Math.min(map.usable[0], map.usable[2])).toBeGreaterThan(0.95);
    expectDensities(
      map,
      spots.map((s) => ({ u: s.u, v: s.v, d: Math.max(s.strength[0], s.strength[2]) })),
    );
  });

  it("takes half-clipped green for ground where it clips, never for a bright spot", () => {
    const map = density(drawPlate({ ground: [0.2, 1.25, 0.3], lamp: lampAside, spots }));
    expect(map.usable[1]).toBeGreaterThan(0.1);
    expect(map.usable[1]).toBeLessThan(0.9);
    for (const [u, v] of bare) expect(Math.abs(around(map.mix, u, v, 5)), `bare at ${u}, ${v}`).toBeLessThan(0.03);
  });

  it.each([1.25, 1.4])("reads spots on one scale where green is clipped and where it is not (%f)", (green) => {
    const map = density(drawPlate({ ground: [0.2, green, 0.3], lamp: lampAside, spots }));
    const read = spots.map((s) => around(map.mix, s.u, s.v) / top(s));
    expect(Math.max(...read) / Math.min(...read)).toBeLessThan(1.15);
    expect(Math.max(...read)).toBeLessThan(1.2);
  });
});

describe("emission under 365 nm", () => {
  const glow: DrawnSpot[] = [0.3, 0.15, 0.08, 0.05].map((e, i) => ({
    u: 0.2 + 0.2 * i,
    v: 0.3 + 0.12 * i,
    ...round,
    strength: [0.3 * e, 0.6 * e, e],
  }));

  it("is the light above the ground", () => {
    const map = density(drawPlate({ light: "uv365", ground: [0.03, 0.02, 0.06], spots: glow }));
    expectDensities(
      map,
      glow.map((s) => ({ u: s.u, v: s.v, d: top(s) })),
    );
    expect(Math.abs(around(map.mix, 0.8, 0.2, 5))).toBeLessThan(0.004);
    expect(map.saturated).toBeNull();
  });

  it("tells the light of the bare layer beside it", () => {
    const map = density(drawPlate({ light: "uv365", ground: [0.02, 0.03, 0.1], spots: [] }));
    const middle = map.bare!.map(({ data, width, height }) => data[(height >> 1) * width + (width >> 1)]);
    [0.02, 0.03, 0.1].forEach((light, c) => {
      expect(Math.abs(middle[c] / light - 1)).toBeLessThan(0.05);
    });
    expect(density(drawPlate({ spots: [] })).bare).toBeUndefined();
  });

  it("is a lower bound where a spot blinds the camera, and says where", () => {
    const blinding: DrawnSpot = { u: 0.6, v: 0.5, ...round, strength: [1.4, 2, 1.8] };
    const { saturated } = density(
      drawPlate({ light: "uv365", ground: [0.03, 0.02, 0.06], spots: [...glow, blinding] }),
    );
    expect(around(saturated!, 0.6, 0.5)).toBe(1);
    expect(around(saturated!, 0.2, 0.3)).toBe(0);
    expect(around(saturated!, 0.8, 0.2, 5)).toBe(0);
  });
});

describe("strokes", () => {
  const line = lineAcross(0.87, { tilt: 0.01 });
  const map = density(drawPlate({ lamp: lampAside, spots, strokes: [line] }));

  it("are parted from the spots' signal", () => {
    for (const u of [0.1, 0.3, 0.5, 0.7, 0.9]) {
      const v = 0.87 + 0.01 * (u - 0.5);
      expect(around(map.strokes, u, v, 1)).toBeGreaterThan(0.08);
      expect(around(map.mix, u, v, 1)).toBeLessThan(0.03);
    }
  });

  it("take nothing of a spot", () => {
    for (const s of spots) expect(around(map.strokes, s.u, s.v)).toBe(0);
    expectDensities(
      map,
      spots.map((s) => ({ u: s.u, v: s.v, d: top(s) })),
    );
  });

  it("take nothing of the small spots of many lanes side by side, where their number is told", () => {
    const small: DrawnSpot[] = [0.2, 0.4, 0.6].map((u) => ({
      u,
      v: 0.3,
      sigmaU: 0.007,
      sigmaV: 0.014,
      strength: [0.1, 0.2, 0.16],
    }));
    const plate = drawPlate({ width: 800, height: 400, lamp: lampAside, spots: small, strokes: [lineAcross(0.8)] });
    const heightOf = (lanes: number | null) => around(density(plate, lanes).mix, 0.4, 0.3);
    expect(heightOf(16)).toBeGreaterThan(1.2 * heightOf(null));
    expect(around(density(plate, 16).mix, 0.4, 0.8)).toBeLessThan(0.02);
  });
});

describe("spots that glow where others are dark", () => {
  it("show positive in a second mix", () => {
    const glowing: DrawnSpot = { u: 0.35, v: 0.75, ...round, strength: [0, -0.02, -0.3] };
    const map = density(drawPlate({ spots: [...spots, glowing] }));
    expect(map.counter).not.toBeNull();
    expect(around(map.counter!.plane, 0.35, 0.75)).toBeGreaterThan(15 * map.counter!.noise);
  });

  it("show there even where they glow faintly on an uneasy layer", () => {
    const glowing: DrawnSpot = { u: 0.35, v: 0.75, ...round, strength: [0, -0.002, -0.013] };
    const map = density(drawPlate({ spots: [...spots, glowing], noise: 0.05 }));
    expect(map.counter).not.toBeNull();
    expect(around(map.counter!.plane, 0.35, 0.75)).toBeGreaterThan(3 * map.counter!.noise);
  });

  it("are not invented", () => {
    for (const noise of [0.012, 0.05]) expect(density(drawPlate({ spots, noise })).counter).toBeNull();
  });
});
