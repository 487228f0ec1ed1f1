import { describe, expect, it } from "vitest";
import type { Quad } from "../../../src/model/index.ts";
import type { Judged } from "../../../src/plate/locate/judge.ts";
import type { Candidate } from "../../../src/plate/locate/quads.ts";
import { outOfShadow, shaded } from "../../../src/plate/locate/shadow.ts";
import type { SideEvidence } from "../../../src/plate/locate/sides.ts";

const LAYER = [184, 152, 155] as const;
const BENCH = [180, 164, 168] as const;
/** The bench with the same share of all colours taken. */
const SHADE = [140, 128, 131] as const;

function side(inside: SideEvidence["inside"], outside: SideEvidence["outside"]): SideEvidence {
  const step = Math.hypot(...inside.map((code, c) => code - outside[c]));
  return { coherence: 1, step, local: 1, wide: step, framed: false, inside, outside };
}

/** An upright plate of 200 by 300 whose lower rim lies at y, with its sides as told. */
function outline(y: number, score: number, bottom: SideEvidence): Judged {
  const quad: Quad = [
    [50, 20],
    [250, 20],
    [250, y],
    [50, y],
  ];
  const lines = [
    [0, 1, 20],
    [1, 0, 250],
    [0, 1, y],
    [1, 0, 50],
  ].map(([nx, ny, rho]) => ({ nx, ny, rho }));
  const candidate = { quad, sides: lines, score } as unknown as Candidate;
  const lit = side(LAYER, BENCH);
  const inside = { smooth: 1, level: 160 };
  return { candidate, quad, sides: [lit, lit, bottom, lit], inside, edge: score, score };
}

describe("a plate's shadow", () => {
  it("is the bench, darker by the same share of each colour; a layer has a colour of its own", () => {
    expect(shaded(side(SHADE, BENCH), LAYER)).toBe(true);
    expect(shaded(side(LAYER, BENCH), LAYER)).toBe(false);
    expect(shaded(side([140, 115, 118], BENCH), LAYER)).toBe(false);
    // A grey layer on a grey bench: nobody can tell.
    expect(shaded(side([140, 140, 140], [180, 180, 180]), [160, 160, 160])).toBe(false);
    // So little light that a channel's share is noise.
    expect(shaded(side([30, 27, 28], [40, 36, 37]), [39, 33, 33])).toBe(false);
  });

  const withIt = outline(320, 0.6, side(SHADE, BENCH));
  const plate = outline(308, 0.55, side(LAYER, SHADE));

  it("is left out of the outline, up to the first rim that it falls from", () => {
    const front = outline(280, 0.58, side(LAYER, [160, 130, 133]));
    expect(outOfShadow(withIt, [withIt, front, plate])).toBe(plate);
  });

  it("stays where no other outline shows", () => {
    const poor = outline(308, 0.4, side(LAYER, SHADE));
    expect(outOfShadow(withIt, [withIt, poor])).toBe(withIt);
    expect(outOfShadow(plate, [withIt, plate])).toBe(plate);
  });
});
