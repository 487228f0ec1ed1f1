import type { MarkRow, SignalMap } from "../view.ts";
import { contrastsOf } from "./columnContrast.ts";
import { columnMarks, type Figures, figureRows, rowsOver } from "./columnMarks.ts";
import type { RowCurve } from "./curves.ts";
import type { Evidence, Look } from "./evidence.ts";

/** Rows of faint marks over figures, one look for each photo. Where they show as a row or a line too, that is more exact. */
export function columnLooks(
  maps: readonly SignalMap[],
  marks: readonly (readonly MarkRow[])[],
  drawn: readonly Evidence[],
): Look[] {
  const figures = figureRows(marks, maps[0]);
  const rows = marks.flat().map(({ y, tilt }) => ({ y, tilt, bow: 0 }));
  const lines = drawn.map((e) => e.curve);
  const exact = (curve: RowCurve, { top }: Figures, height: number) => {
    const off = (o: RowCurve) => Math.abs(o.y - curve.y);
    const near = [rows.filter((o) => o.y < top), lines].map((curves) =>
      curves.filter((o) => off(o) < COLUMNS.exact * height).sort((a, b) => off(a) - off(b)),
    );
    return near[0][0] ?? near[1][0] ?? curve;
  };
  if (figures.length === 0) return [];
  const rooms = figures.map((row) => rowsOver(row, maps[0].height));
  const [from, to] = [Math.min(...rooms.map((r) => r.from)), Math.max(...rooms.map((r) => r.to))];
  return maps.map((map) => {
    const contrasts = contrastsOf(map, from, to);
    // At 365 nm pencil is darker than the layer or brighter.
    const signs = map.light === "uv365" ? ([1, -1] as const) : ([1] as const);
    const chances = signs.map((sign) => contrasts.byChance(sign));
    return figures.flatMap((row): Look => {
      const hits = signs.map((sign, k) => columnMarks(map, contrasts, chances[k], row, sign));
      const [clearest] = hits.sort((a, b) => (b[0]?.clear ?? 0) - (a[0]?.clear ?? 0));
      return clearest
        .filter((e) => e.clear > COLUMNS.least)
        .map(({ clear, count, narrow, ...curve }) => {
          const strength =
            clear *
            row.odds *
            Math.min(1, count / COLUMNS.count) *
            Math.max(0, Math.min(1, (narrow - COLUMNS.spots) / (COLUMNS.thin - COLUMNS.spots)));
          const place = exact(curve, row, map.height);
          return { curve: place, rms: 0.006 * map.height, kind: "columns", strength, trust: COLUMNS.trust * strength };
        });
    });
  });
}

/**
 * Faint marks count from the response `least` on, in full over `count` figures and more; not at all as wide as `spots`, in full
 * where `thin`. What else is seen so near, as a share of the height, is the same.
 */
const COLUMNS = { least: 0.9, count: 5, trust: 0.8, spots: 0.6, thin: 0.85, exact: 0.012 };
