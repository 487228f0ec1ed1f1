import { describe, expect, it } from "vitest";
import type { Spot } from "../../../src/model/index.ts";
import type { PlateFrame } from "../../../src/plate/frame.ts";
import { graphiteOn } from "../../../src/plate/spots/graphite.ts";
import type { SignalMap } from "../../../src/plate/view.ts";
import { makePlane } from "../../../src/raster/picture.ts";

type Colour = readonly [number, number, number];

const SIZE = { width: 200, height: 300 };
const FRAME = { origin: { y: 0.9, tilt: 0, bow: 0 } } as PlateFrame;
/** Graphite takes the same of all light, the substance green alone. */
const GREY: Colour = [0.3, 0.3, 0.3];
const GREEN: Colour = [0.05, 0.5, 0.05];

/** A photo with a pencil line of a colour on the start line, over so much of the width. */
function photo(pencil: Colour, share = 1): SignalMap {
  const channels = [0, 1, 2].map(() => makePlane(SIZE.width, SIZE.height)) as unknown as SignalMap["channels"];
  const strokes = makePlane(SIZE.width, SIZE.height);
  for (let y = 269; y <= 271; y++)
    for (let x = 0; x < share * SIZE.width; x++) {
      const i = y * SIZE.width + x;
      strokes.data[i] = 0.3;
      for (let c = 0; c < 3; c++) channels[c].data[i] = pencil[c];
    }
  return { ...SIZE, strokes, strokeNoise: 0.01, channels } as SignalMap;
}

/** A spot as each photo shows it: colour and contrast to noise. */
const spot = (rf: number, ...seen: readonly (readonly [Colour, number])[]) =>
  ({
    rf,
    confidence: 0.99,
    responses: seen.map(([colour, contrastToNoise]) => ({ colour, contrastToNoise })),
  }) as unknown as Spot;
const mixed = (pencil: number): Colour => [0, 1, 2].map((c) => pencil * GREY[c] + (1 - pencil) * GREEN[c]) as never;

describe("what stands on the start line", () => {
  const clear = spot(0.4, [GREEN, 20]);
  const isPencil = graphiteOn([photo(GREY)], FRAME, [clear]);

  it("is pencil where it has the pencil's colour, however dark it is", () => {
    expect(isPencil(spot(0, [GREY, 8]))).toBe(true);
    expect(isPencil(spot(0, [[0.9, 0.9, 0.9], 20]))).toBe(true);
  });

  it("is left there where it has the spots' colour, or pencil covers half of it", () => {
    expect(isPencil(spot(0, [GREEN, 8]))).toBe(false);
    expect(isPencil(spot(0, [mixed(0.5), 8]))).toBe(false);
  });

  it("is not judged by colour where pencil and spots have one, or where there is no pencil or no clear spot", () => {
    expect(graphiteOn([photo(GREEN)], FRAME, [clear])(spot(0, [GREEN, 8]))).toBe(false);
    expect(graphiteOn([photo(GREY, 0.05)], FRAME, [clear])(spot(0, [GREY, 8]))).toBe(false);
    expect(graphiteOn([photo(GREY)], FRAME, [])(spot(0, [GREY, 8]))).toBe(false);
    expect(graphiteOn([photo(GREY)], FRAME, [spot(0.01, [GREEN, 20])])(spot(0, [GREY, 8]))).toBe(false);
  });

  it("is judged in the photo that tells pencil and spots apart best", () => {
    const both = graphiteOn([photo(GREY), photo(GREY)], FRAME, [spot(0.4, [GREEN, 20], [[0.3, 0.4, 0.3], 20])]);
    expect(both(spot(0, [GREY, 8], [[0.3, 0.4, 0.3], 8]))).toBe(true);
    expect(both(spot(0, [GREEN, 8], [GREY, 8]))).toBe(false);
  });
});
