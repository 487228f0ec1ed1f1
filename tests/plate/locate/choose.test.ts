import { describe, expect, it } from "vitest";
import type { Quad } from "../../../src/model/index.ts";
import { choosePlates } from "../../../src/plate/locate/choose.ts";
import type { Judged } from "../../../src/plate/locate/judge.ts";
import type { Candidate } from "../../../src/plate/locate/quads.ts";
import type { SideEvidence } from "../../../src/plate/locate/sides.ts";

const SIDE: SideEvidence = {
  ...{ coherence: 1, step: 100, local: 1, wide: 100, framed: false },
  ...{ inside: [230, 230, 225], outside: [120, 90, 60] },
};

/** An upright rectangle, its sides shown well, with the score given. */
function judged(x: number, y: number, w: number, h: number, score: number): Judged {
  const corners: Quad = [
    [x, y],
    [x + w, y],
    [x + w, y + h],
    [x, y + h],
  ];
  // No line of the picture is asked for where no candidate lies in another.
  const candidate = { quad: corners, sides: [], score } as unknown as Candidate;
  const inside = { smooth: 1, roughness: 1, level: 230 };
  return { candidate, quad: corners, sides: [SIDE, SIDE, SIDE, SIDE], inside, edge: score, score };
}

describe("of candidates side by side", () => {
  const piece = (score: number) => judged(10, 200, 40, 80, score);
  const plate = judged(100, 80, 280, 210, 0.74);

  it("the larger is the plate where both are shown as well: a piece of a ruler is not", () => {
    expect(choosePlates([piece(0.755), plate], 1, () => true)).toEqual([plate]);
  });

  it("paper that glows under the 365 nm lamp is not the plate, however bold its rim", () => {
    const around = [100, 55, 230] as const;
    const lit = (one: Judged, inside: readonly [number, number, number]): Judged => {
      const side = { ...SIDE, inside, outside: around };
      return { ...one, sides: [side, side, side, side] };
    };
    const paper = lit(judged(10, 80, 200, 150, 0.85), [254, 254, 253]);
    const dark = lit(plate, [65, 48, 154]);
    expect(choosePlates([paper, dark], 1, () => true)).toEqual([dark]);
  });

  it("the better shown is the plate where the other is shown poorly", () => {
    const clear = piece(0.95);
    expect(choosePlates([clear, plate], 1, () => true)).toEqual([clear]);
  });
});
