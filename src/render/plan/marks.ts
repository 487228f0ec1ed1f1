import type { Chance } from "../chance.ts";
import type { LevelSettings } from "../levels.ts";
import { type CrossLine, crossLineAt, type LaneRecipe, type PlateRecipe, type Stroke } from "../recipe.ts";
import { writePencil } from "./glyphs.ts";

type Bare = Pick<PlateRecipe, "width" | "height" | "origin" | "front" | "originMark" | "frontMark"> & {
  readonly lanes: readonly LaneRecipe[];
};

/** Hand-drawn line across the plate from u0 to u1, wavering a little. */
function acrossLine(chance: Chance, line: CrossLine, width: number, u0: number, u1: number, density: number): Stroke {
  const waver = chance.uniform(0, 0.12);
  const phase = chance.uniform(0, 6);
  const points = Array.from({ length: 13 }, (_, i): readonly [number, number] => {
    const u = u0 + ((u1 - u0) * i) / 12;
    return [u * width, crossLineAt(line, u) + waver * Math.sin(phase + 5 * u)];
  });
  return { points, width: chance.uniform(0.25, 0.5), density };
}

function originStrokes(chance: Chance, plate: Bare, density: number): Stroke[] {
  const { originMark, width, origin, lanes } = plate;
  const edge = chance.uniform(2, 4) / width;
  switch (originMark) {
    case "line":
      return [acrossLine(chance, origin, width, chance.uniform(0, 0.04), chance.uniform(0.96, 1), density)];
    case "edges":
      return [
        acrossLine(chance, origin, width, 0.002, edge, density),
        acrossLine(chance, origin, width, 1 - edge, 0.998, density),
      ];
    case "ticks":
      return lanes.map(({ x, originY }) => {
        const dx = chance.normal(0, 0.15);
        const y = originY + chance.normal(0, 0.15);
        const half = chance.uniform(0.8, 1.6);
        const flat = chance.happens(0.5);
        return {
          points: flat
            ? [
                [x - half + dx, y],
                [x + half + dx, y + dx],
              ]
            : [
                [x + dx, y - half],
                [x, y + half],
              ],
          width: 0.35,
          density,
        };
      });
    case "crosses":
      return lanes.flatMap(({ x, originY }) => {
        const half = chance.uniform(0.6, 1.1);
        const y = originY + chance.normal(0, 0.15);
        const stroke = (s: number): Stroke => ({
          points: [
            [x - half, y - s * half],
            [x + half, y + s * half],
          ],
          width: 0.32,
          density,
        });
        return [stroke(1), stroke(-1)];
      });
    default:
      return [];
  }
}

/** All that is pencilled on a plate: origin, front, lane numbers below the origin, notes above the front. */
export function drawPencil(chance: Chance, plate: Bare, settings: LevelSettings): Stroke[] {
  const density = chance.uniform(0.18, 0.5);
  const wave = () => chance.uniform(-1, 1);
  const strokes = originStrokes(chance, plate, density);
  if (plate.frontMark === "line")
    strokes.push(
      acrossLine(chance, plate.front, plate.width, chance.uniform(0, 0.06), chance.uniform(0.94, 1), density),
    );
  const room = plate.height - plate.origin.y;
  if (chance.happens(settings.laneLabels) && room > 5) {
    const pitch = plate.lanes.length > 1 ? Math.abs(plate.lanes[1].x - plate.lanes[0].x) : 8;
    const size = Math.min(room * 0.35, pitch * 0.4, 3.2);
    for (const { label, x, originY } of plate.lanes) {
      const text = label.length > 2 ? label.slice(0, 1) : label;
      const left = x - text.length * size * 0.42;
      strokes.push(...writePencil(text, left, originY + Math.max(2, room * 0.32), size, density, 0.6, wave));
    }
  }
  const above = plate.front.y - Math.abs(plate.front.tilt) - Math.abs(plate.front.bow);
  if (chance.happens(settings.notes) && above > 5) {
    const text = chance.pick(["ak-12", "e:a 3:1", "c-4", "27", "ms 8", "x", "a-k 2"]);
    const size = Math.min(above * 0.5, 3.2);
    const x = chance.uniform(2, Math.max(3, plate.width - text.length * size * 0.9 - 2));
    strokes.push(...writePencil(text, x, above * 0.2, size, density * 0.9, 0.8, wave));
  }
  return strokes;
}
