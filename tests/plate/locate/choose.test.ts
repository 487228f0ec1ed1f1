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
  const inside = { smooth: 1, level: 230 };
  return { candidate, quad: corners, sides: [SIDE, SIDE, SIDE, SIDE], inside, edge: score, score };
}

describe("of candidates side by side", () => {
  const piece = (score: number) => judged(10, 200, 40, 80, score);
  const plate = judged(100, 80, 280, 210, 0.74);

  it("the larger is the plate where both are shown as well: a piece of a ruler is not", () => {
    expect(choosePlates([piece(0.755), plate], 1, () => true)).toEqual([plate]);
  });

  it("paper that glows under the 365 nm lamp is not the plate, however bold its rim", () => {
    const around = [100, 55, 160] as const;
    const lit = (one: Judged, inside: readonly [number, number, number]): Judged => {
      const side = { ...SIDE, inside, outside: around };
      return { ...one, sides: [side, side, side, side] };
    };
    const paper = lit(judged(10, 80, 200, 150, 0.85), [254, 254, 253]);
    const dark = lit(plate, [65, 48, 154]);
    expect(choosePlates([paper, dark], 1, () => true)).toEqual([dark]);
    // A layer that glows so under 254 nm that all is clipped.
    expect(choosePlates([paper, dark], 1, () => true, "uv254")).toEqual([paper]);
    // A ruler in a dark photo, where the light is known.
    const ruler = lit(judged(10, 80, 200, 150, 0.85), [90, 100, 168]);
    expect(choosePlates([ruler, dark], 1, () => true)).toEqual([ruler]);
    expect(choosePlates([ruler, dark], 1, () => true, "uv365")).toEqual([dark]);
  });

  it("the better shown is the plate where the other is shown poorly", () => {
    const clear = piece(0.95);
    expect(choosePlates([clear, plate], 1, () => true)).toEqual([clear]);
  });
});

describe("a side that light draws across the plate", () => {
  const line = (nx: number, ny: number, rho: number, shown: number) => ({
    ...{ nx, ny, rho, votes: 1, border: false, offset: nx === 1 ? 0 : -400 },
    support: Float32Array.from({ length: 401 }, (_, i) => shown * i),
  });
  const lines = (bottom: number, shown: number) => [
    line(0, 1, 80, 1),
    line(1, 0, 380, shown),
    line(0, 1, bottom, 1),
    line(1, 0, 100, shown),
  ];
  /** A plate of which the lowest part lies in a shadow, and the part that does not, with its lower side as bold as told. */
  function shadowed(step: number, shown: number): [Judged, Judged] {
    const whole = lines(290, shown);
    const lit = [whole[0], whole[1], line(0, 1, 240, 1), whole[3]];
    const put = (one: Judged, sides: unknown): Judged => ({
      ...one,
      candidate: { ...one.candidate, sides } as Candidate,
    });
    const part = put(judged(100, 80, 280, 160, 0.74), lit);
    const outer = put(judged(100, 80, 280, 210, 0.7), whole);
    const shade = { ...SIDE, step, wide: step, outside: [185, 185, 180] as const };
    const dark = { ...SIDE, inside: [185, 185, 180] as const, outside: [75, 55, 35] as const };
    return [
      { ...part, sides: [SIDE, SIDE, shade, SIDE] },
      { ...outer, sides: [SIDE, SIDE, dark, SIDE] },
    ];
  }

  it("is no rim where the photo is said to show no other plate and the sides beside it go on to a bolder one", () => {
    const [part, whole] = shadowed(65, 1);
    expect(choosePlates([part, whole], 1, () => true)).toEqual([whole]);
    expect(choosePlates([part, whole], null, () => true)).toEqual([part]);
  });

  it("is no rim, however bold, where both sides beside it go on all the way to another rim", () => {
    const [part, whole] = shadowed(130, 0.78);
    expect(choosePlates([part, whole], 1, () => true)).toEqual([whole]);
    expect(choosePlates([part, whole], null, () => true)).toEqual([part]);
    const [half, rest] = shadowed(130, 0.6);
    expect(choosePlates([half, rest], 1, () => true)).toEqual([half]);
  });

  it("is one where it is nearly as bold as what lies beyond and the sides beside it go on in part, or the sides beside it end there", () => {
    for (const [part, whole] of [shadowed(90, 0.6), shadowed(65, 0.2)])
      expect(choosePlates([part, whole], 1, () => true)).toEqual([part]);
  });
});
