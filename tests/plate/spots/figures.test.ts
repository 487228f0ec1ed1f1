import { describe, expect, it } from "vitest";
import type { Spot } from "../../../src/model/index.ts";
import { density } from "../../../src/plate/density/index.ts";
import { findMarks } from "../../../src/plate/marks/index.ts";
import { figureUnder } from "../../../src/plate/spots/figures.ts";
import { type DrawnSpot, type DrawnStroke, drawPlate, figure, heightAt, lineAcross } from "../density/drawnPlate.ts";
import { levelFrame } from "./frames.ts";

const LANES = [0.1, 0.233, 0.367, 0.5, 0.633, 0.767, 0.9];
const frame = levelFrame(LANES, 0.1333);

/** A candidate as wide as a small spot. */
function candidate(x: number, rf: number): Spot {
  return {
    ...{ x, y: heightAt(rf), rf, rfSd: 0.003, widthRf: 0.03, widthX: 0.03, tailing: 1, amount: 1, amountSd: 0.1 },
    ...{ confidence: 0.97, flags: [], lights: ["uv254"] },
    responses: [
      { light: "uv254", photo: 0, amount: 1, amountSd: 0.1, contrastToNoise: 20, peak: 0.05, colour: [0.1, 0.1, 0.1] },
    ],
  };
}

function told(strokes: readonly DrawnStroke[], spots: readonly DrawnSpot[], rf: number): boolean[] {
  const map = density(drawPlate({ strokes: [lineAcross(0.87), lineAcross(0.1), ...strokes], spots }));
  const isFigure = figureUnder([map], frame, [findMarks(map)]);
  return LANES.map((x) => isFigure(candidate(x, rf)));
}

/** Written a little above the start line. */
const written = LANES.flatMap((x, i) => figure(i + 1, x, 0.838, 0.04));
const LOW = 0.042;
const spotAt = (u: number, rf: number): DrawnSpot => ({
  ...{ u, v: heightAt(rf), sigmaU: 0.015, sigmaV: 0.01, strength: [0.1, 0.2, 0.16] },
});
/** A circle in pencil. */
const ring = (u: number, rf: number): DrawnStroke[] =>
  Array.from({ length: 16 }, (_, k) => {
    const at = (i: number) =>
      [u + 0.036 * Math.cos((i * Math.PI) / 8), heightAt(rf) + 0.024 * Math.sin((i * Math.PI) / 8)] as const;
    return { from: at(k), to: at(k + 1), half: 0.9, density: 0.25 };
  });

describe("a figure that stands on the start line", () => {
  it("is told from a spot", () => {
    expect(told(written, [], LOW)).toEqual(LANES.map(() => true));
  });

  it("is none where nothing is written", () => {
    expect(told([], [], LOW)).toEqual(LANES.map(() => false));
  });

  it("is none where a spot is as low, circled or not", () => {
    const low = LANES.map((u) => spotAt(u, 0.06));
    expect(told([], low, 0.06)).toEqual(LANES.map(() => false));
    expect(
      told(
        LANES.flatMap((u) => ring(u, 0.06)),
        low,
        0.06,
      ),
    ).toEqual(LANES.map(() => false));
  });
});
