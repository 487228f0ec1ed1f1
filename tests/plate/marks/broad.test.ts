import { describe, expect, it } from "vitest";
import { density } from "../../../src/plate/density/index.ts";
import { findBroadMarks, findMarks } from "../../../src/plate/marks/index.ts";
import { findMigration } from "../../../src/plate/migration/index.ts";
import { boxBlur } from "../../../src/raster/blur.ts";
import { type DrawnStroke, drawPlate, figure, lampAside, tick } from "../density/drawnPlate.ts";

const LANES = [0.14, 0.26, 0.38, 0.5, 0.62, 0.74, 0.86];
/** Half a blur's width in pixels that makes a pencil stroke as broad as a small spot. */
const BLUR = 5;

function blurred(strokes: readonly DrawnStroke[]) {
  const view = drawPlate({ lamp: lampAside, spots: [], strokes });
  const soft = (plane: typeof view.r) => boxBlur(boxBlur(plane, BLUR, BLUR), BLUR, BLUR);
  return density({ ...view, r: soft(view.r), g: soft(view.g), b: soft(view.b) });
}

describe("marks out of focus", () => {
  const crosses = LANES.map((u) => tick(u, 0.85, 0.016));
  const figures = LANES.flatMap((u, i) => figure(i + 1, u, 0.92));

  it("show as a row at their height on a coarser picture", () => {
    const map = blurred([...crosses, ...figures]);
    const rows = findBroadMarks(map).filter((row) => row.marks.length >= 5);
    expect(rows.some((row) => Math.abs(row.y / map.height - 0.85) < 0.008)).toBe(true);
    expect(rows.every((row) => row.broad)).toBe(true);
  });

  it("give the origin, not the figures below them", () => {
    const map = blurred([...crosses, ...figures]);
    const { origin } = findMigration([map], [[...findMarks(map), ...findBroadMarks(map)]], {
      origin: null,
      front: null,
    });
    expect(origin.source).toBe("found");
    expect(Math.abs(origin.y - 0.85)).toBeLessThan(0.008);
  });

  it("are not seen in a bare layer", () => {
    expect(findBroadMarks(blurred([]))).toEqual([]);
  });
});
