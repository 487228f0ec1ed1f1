import { describe, expect, it } from "vitest";
import { lineAt } from "../../../src/model/index.ts";
import { density } from "../../../src/plate/density/index.ts";
import { findCrosses, findMarks } from "../../../src/plate/marks/index.ts";
import { frontLooks } from "../../../src/plate/migration/front.ts";
import { findMigration, type MigrationOptions } from "../../../src/plate/migration/index.ts";
import { sketchOf } from "../../../src/plate/migration/sketch.ts";
import {
  type DrawnSpot,
  type DrawnStroke,
  drawPlate,
  figure,
  heightAt,
  lampAside,
  lineAcross,
  tick,
} from "../density/drawnPlate.ts";

/** Of the plate's height: 0.15 mm on a plate of 5 cm, well below what a ruler shows. */
const CLOSE = 0.003;
const LANES = [0.14, 0.26, 0.38, 0.5, 0.62, 0.74, 0.86];
/** Spots in the lanes, some at one Rf in every lane: a row of spots is no line. */
const spots: DrawnSpot[] = LANES.flatMap((u, i) =>
  [0.35, 0.3 + 0.06 * i].map((rf) => ({
    u,
    v: heightAt(rf),
    sigmaU: 0.024,
    sigmaV: 0.017,
    strength: [0.1, 0.2, 0.16] as const,
  })),
);
const NOTHING: MigrationOptions = { origin: null, front: null };

function migrationOf(strokes: readonly DrawnStroke[], options = NOTHING, drawn = spots) {
  const map = density(drawPlate({ lamp: lampAside, spots: drawn, strokes }));
  return findMigration([map], [findMarks(map)], { ...options, crosses: [findCrosses(map)] });
}

const originLine = lineAcross(0.87);
const frontLine = lineAcross(0.1);
/** Half width of a wetted front at half its darkness, as a share of the height. */
const HALF_BAND = 0.0078;
/** A wetted front: a soft band darker than the layer, its middle at v, lower at the sides by `bow`. */
const wetFront = (v: number, bow: number, tilt = 0): DrawnStroke[] =>
  [1, 2, 3, 4, 5, 6, 8, 10].map((half) =>
    lineAcross(v, { half, density: 0.06 * Math.exp(-0.5 * (half / 4) ** 2), bow, tilt }),
  );

/** A layer that grows darker by so much within 0.02 below v, and pale again over the last 0.08 above `ends`. */
const wall = (v: number, density: number, ends: number): DrawnStroke[] => {
  const rows = Math.round((ends - v) * 500);
  const share = (k: number) => Math.min(1, k / 10, (rows - k) / 40);
  return Array.from({ length: rows }, (_, k) => lineAcross(v + k / 500, { half: 1, density: density * share(k) }));
};

const edgeMark = (side: "left" | "right", v: number): DrawnStroke => {
  const [rim, end] = side === "left" ? [0.002, 0.06] : [0.998, 0.94];
  return { from: [rim, v], to: [end, v], half: 0.9, density: 0.25 };
};
const edgeSpot = (u: number): DrawnSpot => ({ u, v: 0.8, sigmaU: 0.024, sigmaV: 0.012, strength: [0.1, 0.2, 0.16] });

describe("the origin", () => {
  it("is a pencil line", () => {
    const { origin } = migrationOf([originLine, frontLine]);
    expect(origin.source).toBe("found");
    expect(Math.abs(origin.y - 0.87)).toBeLessThan(CLOSE);
  });

  it("is a line too faint for any of its strokes to show", () => {
    const view = drawPlate({ lamp: lampAside, noise: 0.09, spots, strokes: [lineAcross(0.8, { density: 0.04 })] });
    const map = density(view);
    const { origin } = findMigration([map], [findMarks(map)], NOTHING);
    expect(origin.source).toBe("found");
    expect(Math.abs(origin.y - 0.8)).toBeLessThan(CLOSE);
  });

  it("is a line darker than the layer at 365 nm", () => {
    const glowing = spots.map((spot): DrawnSpot => ({ ...spot, strength: [0.1, 0.2, 0.3] }));
    const ground = [0.02, 0.02, 0.06] as const;
    const strokes = [lineAcross(0.8, { density: 0.04 })];
    const map = density(drawPlate({ light: "uv365", ground, noise: 0.05, spots: glowing, strokes }));
    const { origin } = findMigration([map], [findMarks(map)], NOTHING);
    expect(origin.source).toBe("found");
    expect(Math.abs(origin.y - 0.8)).toBeLessThan(CLOSE);
  });

  it("is a tilted pencil line, each lane with its own height", () => {
    const { origin } = migrationOf([lineAcross(0.86, { tilt: 0.03 }), frontLine]);
    for (const u of LANES) expect(Math.abs(lineAt(origin, u) - (0.86 + 0.03 * (u - 0.5)))).toBeLessThan(CLOSE);
  });

  it("is a line as crooked as a hand draws it on a wide plate, and bent as a curled plate shows it", () => {
    const line = lineAcross(0.83, { tilt: 0.09, bow: 0.015 });
    const map = density(drawPlate({ width: 640, height: 400, lamp: lampAside, spots, strokes: [line, frontLine] }));
    const { origin } = findMigration([map], [findMarks(map)], NOTHING);
    expect(origin.source).toBe("found");
    for (const u of LANES)
      expect(Math.abs(lineAt(origin, u) - (0.83 + 0.09 * (u - 0.5) + 0.015 * (2 * u - 1) ** 2))).toBeLessThan(CLOSE);
  });

  it("is what marks over figures show in one photo, though another shows the figures alone", () => {
    const figures = [2, 3, 5].flatMap((digit, i) => figure(digit, 0.25 + 0.25 * i, 0.9));
    const dots = [0.25, 0.5, 0.75].map((u) => tick(u, 0.81));
    const photos = [figures, [...figures, ...dots]].map((strokes) =>
      density(drawPlate({ lamp: lampAside, spots, strokes: [frontLine, ...strokes] })),
    );
    const { origin } = findMigration(photos, photos.map(findMarks), NOTHING);
    expect(Math.abs(origin.y - 0.81)).toBeLessThan(CLOSE);
  });

  it("is taken to lie above figures that stand alone, and no surer than that", () => {
    const tubes = [[1], [4], [7], [1, 0], [1, 3], [1, 6], [1, 2]];
    const figures = tubes.flatMap((digits, i) =>
      digits.flatMap((digit, k) =>
        figure(digit, LANES[i] + 0.026 * (k - (digits.length - 1) / 2), 0.95, 0.026 + 0.004 * ((i + k) % 3)),
      ),
    );
    const { origin } = migrationOf([frontLine, ...figures]);
    expect(origin.source).toBe("assumed");
    expect(origin.y).toBeGreaterThan(0.95 - 0.12);
    expect(origin.y).toBeLessThan(0.95 - 0.02);
    expect(origin.sd).toBeGreaterThan(0.02);
  });

  it("is a pencil line with figures below it, not the figures", () => {
    const { origin } = migrationOf([lineAcross(0.85), frontLine, ...LANES.flatMap((u, i) => figure(i + 1, u, 0.92))]);
    expect(Math.abs(origin.y - 0.85)).toBeLessThan(CLOSE);
  });

  it("is a pencil line drawn high with figures where an origin mostly is", () => {
    const { origin } = migrationOf([lineAcross(0.76), frontLine, ...LANES.flatMap((u, i) => figure(i + 1, u, 0.86))]);
    expect(Math.abs(origin.y - 0.76)).toBeLessThan(CLOSE);
  });

  it("is a row of ticks", () => {
    const { origin } = migrationOf([...LANES.map((u) => tick(u, 0.88)), frontLine]);
    expect(origin.source).toBe("found");
    expect(Math.abs(origin.y - 0.88)).toBeLessThan(CLOSE);
  });

  it("is a row of ticks with figures below them", () => {
    const { origin } = migrationOf([
      ...LANES.map((u) => tick(u, 0.86)),
      ...LANES.flatMap((u, i) => figure(i + 1, u, 0.93)),
      frontLine,
    ]);
    expect(Math.abs(origin.y - 0.86)).toBeLessThan(CLOSE);
  });

  it("is a row of ticks drawn high with figures where an origin mostly is", () => {
    const some = [0, 2, 3, 6];
    const { origin } = migrationOf([
      ...some.map((i) => tick(LANES[i], 0.76)),
      ...LANES.flatMap((u, i) => figure(i + 1, u, 0.872)),
      frontLine,
    ]);
    expect(Math.abs(origin.y - 0.76)).toBeLessThan(CLOSE);
  });

  it("is a row of dots too faint to show one by one, since each stands over a figure", () => {
    const dot = (u: number): DrawnStroke => ({ from: [u - 0.004, 0.8], to: [u + 0.004, 0.8], half: 2, density: 0.022 });
    const figures = LANES.flatMap((u, i) => figure((i % 7) + 1, u, 0.87, 0.04));
    const { origin } = migrationOf([...LANES.map((u, i) => dot(u + 0.006 * ((i % 3) - 1))), ...figures, frontLine]);
    expect(origin.source).toBe("found");
    expect(Math.abs(origin.y - 0.8)).toBeLessThan(CLOSE);
  });

  it("is a row of ticks, though marks stand over some of them as over figures", () => {
    const crosses = [0, 2, 3, 5].flatMap((i) => figure(4, LANES[i], 0.74, 0.03));
    const { origin } = migrationOf([...LANES.map((u) => tick(u, 0.82)), ...crosses, frontLine]);
    expect(Math.abs(origin.y - 0.82)).toBeLessThan(CLOSE);
  });

  it("is a plain line all across wherever it is, not what shows at both rims where an origin mostly is", () => {
    const rims = (["left", "right"] as const).map((side) => edgeMark(side, 0.86));
    const { origin } = migrationOf([lineAcross(0.735), ...rims, frontLine]);
    expect(Math.abs(origin.y - 0.735)).toBeLessThan(CLOSE);
  });

  it("is assumed where something is left in the lanes and nothing lies below", () => {
    const left = [1, 3, 4].map((i) => ({
      u: LANES[i],
      v: 0.79,
      sigmaU: 0.016,
      sigmaV: 0.009,
      strength: [0.08, 0.16, 0.13] as const,
    }));
    const { origin } = migrationOf([frontLine], NOTHING, [...spots, ...left]);
    expect(origin.source).toBe("assumed");
    expect(Math.abs(origin.y - 0.79)).toBeLessThan(CLOSE);
  });

  it("is no row of spots over the figures", () => {
    const low = LANES.map((u): DrawnSpot => {
      return { u, v: 0.79, sigmaU: 0.024, sigmaV: 0.015, strength: [0.1, 0.2, 0.16] };
    });
    const figures = LANES.flatMap((u, i) => figure((i % 7) + 1, u, 0.93, 0.04));
    const { origin } = migrationOf([...LANES.map((u) => tick(u, 0.86, 0.012)), ...figures, frontLine], NOTHING, low);
    expect(Math.abs(origin.y - 0.86)).toBeLessThan(CLOSE);
  });

  it("is a row of ticks, not two unlike specks that stand above it", () => {
    const speck = (u: number, v: number, long: number): DrawnStroke => ({
      from: [u, v],
      to: [u, v + long],
      half: 2,
      density: 0.3,
    });
    const { origin } = migrationOf([
      ...[0, 2, 4, 6].map((i) => tick(LANES[i], 0.88)),
      speck(0.07, 0.845, 0.002),
      speck(0.94, 0.838, 0.03),
      frontLine,
    ]);
    expect(Math.abs(origin.y - 0.88)).toBeLessThan(CLOSE);
  });

  it("is a short mark at either edge, with figures below or without", () => {
    const marks = [edgeMark("left", 0.8), edgeMark("right", 0.81)];
    for (const figures of [[], LANES.flatMap((u, i) => figure(i + 1, u, 0.87))]) {
      const { origin } = migrationOf([...marks, ...figures, frontLine]);
      expect(origin.source).toBe("found");
      expect(Math.abs(lineAt(origin, 0) - 0.8)).toBeLessThan(CLOSE);
      expect(Math.abs(lineAt(origin, 1) - 0.81)).toBeLessThan(CLOSE);
    }
  });

  it.each([
    ["a mark at one edge alone", [], [edgeMark("left", 0.8)]],
    ["outer lanes whose spots lie near the edges", [edgeSpot(0.05), edgeSpot(0.95)], []],
    [
      "scratches that come in at a slant",
      [],
      [
        { ...edgeMark("left", 0.8), to: [0.09, 0.86] as const },
        { ...edgeMark("right", 0.8), to: [0.91, 0.86] as const },
      ],
    ],
  ])("is not %s", (_, more, marks) => {
    const { origin } = migrationOf([...marks, frontLine], NOTHING, [...spots, ...more]);
    expect(origin.source).toBe("assumed");
  });

  it("is assumed, with a wide doubt, where nothing marks it", () => {
    const { origin } = migrationOf([frontLine]);
    expect(origin.source).toBe("assumed");
    expect(origin.y).toBeGreaterThan(0.8);
    expect(origin.y).toBeLessThan(0.93);
    expect(origin.sd).toBeGreaterThan(0.01);
  });
});

describe("an origin of crosses", () => {
  const slanted = (u: number, v: number): DrawnStroke[] => [
    { from: [u - 0.015, v - 0.011], to: [u + 0.015, v + 0.011], half: 1.2, density: 0.25 },
    { from: [u - 0.015, v + 0.011], to: [u + 0.015, v - 0.011], half: 1.2, density: 0.25 },
  ];

  it("is where they cross, though each touches the figure below it", () => {
    const marks = LANES.flatMap((u, i) => [...slanted(u, 0.89), ...figure(i + 1, u, 0.915)]);
    const { origin } = migrationOf([...marks, frontLine]);
    expect(origin.source).toBe("found");
    expect(Math.abs(origin.y - 0.89)).toBeLessThan(CLOSE);
  });
});

describe("an origin of ticks", () => {
  it("is at their middles, though each stands on the figure below it", () => {
    const upright = (u: number): DrawnStroke => ({ from: [u, 0.868], to: [u, 0.902], half: 0.9, density: 0.25 });
    const marks = LANES.flatMap((u, i) => [upright(u), ...figure(i === 0 ? 0 : i + 1, u, 0.915)]);
    const { origin } = migrationOf([...marks, frontLine]);
    expect(origin.source).toBe("found");
    expect(Math.abs(origin.y - 0.885)).toBeLessThan(2 * CLOSE);
  });

  it("is at their middles where they are as long as the figures are high, and lean", () => {
    const leaning = (u: number): DrawnStroke => ({ from: [u - 0.006, 0.845], to: [u, 0.9], half: 1.5, density: 0.3 });
    const marks = LANES.flatMap((u, i) => [leaning(u), ...figure(i === 0 ? 0 : i + 1, u, 0.925, 0.05)]);
    const { origin } = migrationOf([...marks, frontLine]);
    expect(origin.source).toBe("found");
    expect(Math.abs(origin.y - 0.8725)).toBeLessThan(2 * CLOSE);
  });
});

describe("the front", () => {
  it("is a pencil line", () => {
    const { front } = migrationOf([originLine, frontLine]);
    expect(front.source).toBe("found");
    expect(Math.abs(front.y - 0.1)).toBeLessThan(CLOSE);
  });

  it.each([
    ["level", 0.12, 0, 0],
    ["bowed", 0.1, 0.02, 0],
    ["bowed and tilted", 0.14, 0.015, 0.02],
  ])("is a darker band, %s, within its upper half in every lane", (_, v, bow, tilt) => {
    const { front } = migrationOf([originLine, ...wetFront(v, bow, tilt)]);
    expect(front.source).toBe("found");
    // Where in a soft band the solvent ended no one can see; in its upper half, and at one depth in every lane.
    const depths = LANES.map((u) => lineAt(front, u) - (v + tilt * (u - 0.5) + bow * (2 * u - 1) ** 2));
    expect(Math.max(...depths)).toBeLessThan(CLOSE);
    expect(Math.min(...depths)).toBeGreaterThan(-HALF_BAND - CLOSE);
    expect(Math.max(...depths) - Math.min(...depths)).toBeLessThan(2 * CLOSE);
  });

  it("is assumed, with a wide doubt, where nothing shows it, though some lanes share a fast spot", () => {
    const row = LANES.slice(0, 3).map(
      (u): DrawnSpot => ({
        u,
        v: heightAt(0.85),
        sigmaU: 0.024,
        sigmaV: 0.017,
        strength: [0.1, 0.2, 0.16],
      }),
    );
    const { front } = migrationOf([originLine], NOTHING, [...spots, ...row]);
    expect(front.source).toBe("assumed");
    expect(front.sd).toBeGreaterThan(0.01);
  });
});

describe("the front of a plate", () => {
  const cross = (u: number, v: number): DrawnStroke[] => [
    { from: [u - 0.016, v], to: [u + 0.016, v], half: 0.9, density: 0.25 },
    { from: [u, v - 0.012], to: [u, v + 0.012], half: 0.9, density: 0.25 },
  ];

  it("is where a few crosses stand, bowed as they do", () => {
    const crosses = [...cross(0.07, 0.175), ...cross(0.5, 0.16), ...cross(0.93, 0.179)];
    const { front } = migrationOf([originLine, ...crosses]);
    expect(front.source).toBe("found");
    for (const [u, v] of [
      [0.07, 0.175],
      [0.5, 0.16],
      [0.93, 0.179],
    ])
      expect(Math.abs(lineAt(front, u) - v)).toBeLessThan(2 * CLOSE);
  });

  it("is not where figures stand that number a few lanes", () => {
    const figures = [3, 4, 5].flatMap((digit, i) => figure(digit, 0.2 + 0.3 * i, 0.06));
    const { front } = migrationOf([originLine, frontLine, ...figures]);
    expect(Math.abs(front.y - 0.1)).toBeLessThan(CLOSE);
    expect(migrationOf([originLine, ...figures]).front.source).toBe("assumed");
  });

  it("is a steep line on a wide plate", () => {
    const strokes = [originLine, lineAcross(0.15, { tilt: -0.13, bow: 0.03, density: 0.05 })];
    const map = density(drawPlate({ width: 640, height: 400, lamp: lampAside, spots, strokes }));
    const { front } = findMigration([map], [findMarks(map)], NOTHING);
    expect(front.source).toBe("found");
    for (const u of LANES)
      expect(Math.abs(lineAt(front, u) - (0.15 - 0.13 * (u - 0.5) + 0.03 * (2 * u - 1) ** 2))).toBeLessThan(CLOSE);
  });

  it("is a short level mark at one edge, with a wider doubt, and no slanting scratch", () => {
    const mark = (rise: number): DrawnStroke => ({
      from: [0.02, 0.14],
      to: [0.22, 0.14 + rise],
      half: 1,
      density: 0.2,
    });
    const { front } = migrationOf([originLine, mark(0.002)]);
    expect(front.source).toBe("found");
    expect(Math.abs(front.y - 0.141)).toBeLessThan(2 * CLOSE);
    expect(front.sd).toBeGreaterThan(0.005);
    expect(migrationOf([originLine, mark(0.06)]).front.source).toBe("assumed");
  });

  it("is not where the strip ends that did not reach the stain", () => {
    // The same plate bare and stained, put together at a height: the step has the stain's colour.
    const plate = {
      light: "white",
      lamp: lampAside,
      spots,
      strokes: [originLine, lineAcross(0.16, { density: 0.03 })],
    } as const;
    const bare = drawPlate({ ...plate, ground: [0.6, 0.6, 0.55] });
    const stained = drawPlate({ ...plate, ground: [0.58, 0.5, 0.38] });
    const end = Math.round(0.08 * bare.r.height) * bare.r.width;
    for (const c of ["r", "g", "b"] as const) stained[c].data.set(bare[c].data.subarray(0, end));
    const map = density(stained);
    const { front } = findMigration([map], [findMarks(map)], NOTHING);
    expect(Math.abs(front.y - 0.16)).toBeLessThan(CLOSE);
  });
});

describe("a front that does not show", () => {
  it("is not a row of spots that touch each other in two thirds of the lanes", () => {
    const row = Array.from({ length: 9 }, (_, i): DrawnSpot => {
      const strength = [0.3, 0.6, 0.5] as const;
      return { u: 0.12 + 0.07 * i, v: heightAt(0.88), sigmaU: 0.028, sigmaV: 0.017, strength };
    });
    const { front } = migrationOf([originLine], NOTHING, [...spots, ...row]);
    expect(front.source).toBe("assumed");
  });

  it("is not the strip of dry layer between it and the rim", () => {
    // A soft front, wet layer below it and a dark rim above: between the two the dry strip is a bright band.
    const [middle, soft] = [0.065, 0.05];
    const wet = Array.from({ length: 200 }, (_, i) => {
      const v = middle - soft / 2 + 0.002 * i;
      const share = Math.min(1, Math.max(0.02, 0.002 * (i / soft)));
      return lineAcross(v, { half: 1.5, density: 0.003 * share });
    });
    const rim = Array.from({ length: 6 }, (_, i) => lineAcross(0.002 * i, { half: 1.5, density: 0.02 }));
    // one soft step alone does not make sure of it
    const { front } = migrationOf([originLine, ...wet, ...rim]);
    expect(Math.abs(front.y - middle)).toBeLessThan(soft / 4);
  });

  it.each([
    [6, 0.75],
    [9, 0.9],
    [13, 0.75],
  ])("is not a row of spots in all of %i lanes, at Rf %f", (lanes, rf) => {
    const pitch = 0.84 / (lanes - 1);
    const row = Array.from({ length: lanes }, (_, i): DrawnSpot => {
      const strength = [0.24, 0.48, 0.4] as const;
      return { u: 0.08 + pitch * i, v: heightAt(rf), sigmaU: 0.18 * pitch, sigmaV: 0.015, strength };
    });
    const { front } = migrationOf([originLine], NOTHING, row);
    expect(front.source).toBe("assumed");
  });

  it("is not a row of spots though the true front is fainter", () => {
    const row = Array.from({ length: 13 }, (_, i): DrawnSpot => {
      const strength = [0.24, 0.48, 0.4] as const;
      return { u: 0.08 + 0.07 * i, v: heightAt(0.8), sigmaU: 0.0126, sigmaV: 0.015, strength };
    });
    const faint = lineAcross(0.1, { half: 0.9, density: 0.01 });
    const { front } = migrationOf([originLine, faint], NOTHING, row);
    expect(Math.abs(front.y - 0.1)).toBeLessThan(CLOSE);
    expect(front.source).toBe("found");
  });

  it("is where a dry strip, darker than what the eluent washed, ends", () => {
    const dry = Array.from({ length: 65 }, (_, i) => lineAcross(0.002 * i, { half: 1.5, density: 0.02 }));
    const { front } = migrationOf([originLine, ...dry]);
    expect(Math.abs(front.y - 0.13)).toBeLessThan(0.012);
  });

  it("is not where the layer grows darker next to its end, unless that shows in more ways than one", () => {
    expect(migrationOf([originLine, ...wall(0.038, 0.002, 1)], NOTHING, []).front.source).toBe("assumed");
    const { front } = migrationOf([originLine, ...wall(0.1, 0.002, 1)], NOTHING, []);
    expect(front.source).toBe("found");
    expect(Math.abs(front.y - 0.1)).toBeLessThan(0.015);
  });

  it("is where a dry strip ends that is as dark as spots, but goes from edge to edge", () => {
    const dry = Array.from({ length: 65 }, (_, i) => lineAcross(0.002 * i, { half: 1.5, density: 0.12 }));
    const { front } = migrationOf([originLine, ...dry]);
    expect(Math.abs(front.y - 0.13)).toBeLessThan(0.012);
  });

  it("is not a step as dark as spots with gaps between them, the upper side of a row of them", () => {
    const spots = [0.05, 0.25, 0.45, 0.65, 0.85];
    const row = (dark: number) =>
      wall(0.17, dark, 0.37).flatMap((stroke) =>
        spots.map((u) => ({ ...stroke, from: [u, stroke.from[1]] as const, to: [u + 0.12, stroke.to[1]] as const })),
      );
    const strengthOf = (strokes: DrawnStroke[]) => {
      const map = density(drawPlate({ lamp: lampAside, spots: [], strokes: [originLine, ...strokes] }));
      const steps = frontLooks([sketchOf(map)])
        .flat()
        .filter(({ kind, curve }) => kind === "step" && Math.abs(curve.y / map.height - 0.175) < 0.012);
      return Math.max(0, ...steps.map((one) => one.strength));
    };
    expect(strengthOf(wall(0.17, 0.04, 0.37))).toBeGreaterThan(1);
    expect(strengthOf(wall(0.17, 0.12, 0.37))).toBeGreaterThan(1);
    expect(strengthOf(row(0.2))).toBeLessThan(0.4);
  });

  it("is not the end of the layer", () => {
    const { front } = migrationOf([originLine, lineAcross(0.018), ...wetFront(0.21, 0.01)]);
    expect(Math.abs(front.y - 0.21)).toBeLessThan(HALF_BAND + CLOSE);
  });
});

describe("told heights", () => {
  it("stand, and take tilt and bow from what is seen near them", () => {
    const { origin, front } = migrationOf([lineAcross(0.86, { tilt: 0.03 }), ...wetFront(0.12, 0.02)], {
      origin: 0.862,
      front: 0.118,
    });
    expect(origin).toMatchObject({ y: 0.862, source: "given" });
    expect(front).toMatchObject({ y: 0.118, source: "given" });
    expect(origin.tilt).toBeCloseTo(0.03, 2);
    expect(front.bow).toBeCloseTo(0.02, 2);
  });

  it("stand level where something else is seen far from them", () => {
    const { origin } = migrationOf([lineAcross(0.86, { tilt: 0.03 }), frontLine], { origin: 0.78, front: null });
    expect(origin).toMatchObject({ y: 0.78, tilt: 0, bow: 0, source: "given" });
  });
});
