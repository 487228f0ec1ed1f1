import { blockMeans } from "../../raster/blocks.ts";
import type { Patch } from "../../raster/components.ts";
import type { Plane } from "../../raster/picture.ts";
import { strokesOf } from "../../raster/strokes.ts";
import type { MarkRow, SignalMap } from "../view.ts";
import { CLEAR, FROM, rowsOfMarks, smallMarks } from "./rows.ts";

/** Marks are looked for on means of so many pixels across. */
const COARSE = 3;
/** Half the width below which a mark is pencil, as a share of the longer side. */
const BROAD = 0.018;
/** Blurred marks are not as level as sharp ones, as a share of the height. */
const LEVEL = 0.011;
/** Above the marks, what of the layer is looked at with them, as a share of the height. */
const MARGIN = 0.06;
/** The valley between two marks run together, as a share of the lesser one's height. */
const VALLEY = 0.85;

/**
 * Rows of marks that blur has made as broad as small spots: the same top-hat, and the same search for rows, on a coarser
 * picture and with a larger square. Sharp marks show here too, and so do small spots.
 */
export function findBroadMarks(map: SignalMap): MarkRow[] {
  const { width } = map;
  const above = Math.round(FROM * map.height) - Math.round(MARGIN * map.height);
  const lower = { width, height: map.height - above, data: map.grey.data.subarray(above * width) };
  const coarse = blockMeans(lower, COARSE);
  const reach = Math.max(2, Math.round((BROAD * Math.max(map.width, map.height)) / COARSE));
  const { strokes, noise } = strokesOf(coarse, reach);
  const wanted = { leastArea: 3, height: map.height / COARSE };
  const marks = smallMarks(strokes, Math.round((MARGIN * map.height) / COARSE), CLEAR * noise, wanted);
  const parts = marks.flatMap((m) => parted(m, strokes)).map((m) => enlarged(m, above));
  return rowsOfMarks(parts, map.width, map.height, LEVEL * map.height).map((row) => ({ ...row, broad: true }));
}

/** A mark and the figure below it run together: parted where their sum along the rows has a valley. */
function parted(patch: Patch, { data, width }: Plane): Patch[] {
  const profile = Array.from({ length: patch.y1 - patch.y0 }, (_, k) => {
    let sum = 0;
    for (let x = patch.x0, o = (patch.y0 + k) * width; x < patch.x1; x++) sum += data[o + x];
    return sum;
  });
  let cut = -1;
  let deepest = VALLEY;
  for (let k = 2; k < profile.length - 2; k++) {
    const lower = Math.min(Math.max(...profile.slice(0, k)), Math.max(...profile.slice(k + 1)));
    const depth = profile[k] / lower;
    if (depth < deepest) {
      deepest = depth;
      cut = k;
    }
  }
  if (cut < 0) return [patch];
  const part = (y0: number, y1: number): Patch => {
    const h = y1 - y0;
    return { ...patch, y0, y1, area: (patch.area * h) / profile.length, cy: (y0 + y1 - 1) / 2 };
  };
  return [part(patch.y0, patch.y0 + cut), part(patch.y0 + cut + 1, patch.y1)];
}

function enlarged({ x0, y0, x1, y1, area, cx, cy }: Patch, above: number): Patch {
  return {
    x0: x0 * COARSE,
    y0: above + y0 * COARSE,
    x1: x1 * COARSE,
    y1: above + y1 * COARSE,
    area: area * COARSE * COARSE,
    cx: cx * COARSE,
    cy: above + cy * COARSE,
  };
}
