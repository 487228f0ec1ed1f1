import type { ResultFraction, ResultPool } from "../../model/index.ts";
import { type Markup, markup, raw } from "../markup.ts";
import {
  BAR_HEIGHT,
  type BracketRun,
  bracketLabel,
  bracketRuns,
  bracketSvg,
  isMainPiece,
  pieceLabel,
} from "./bracket.ts";
import type { Palette } from "./palette.ts";
import { evenRows } from "./text.ts";
import { tubeSvg } from "./tube.ts";

export interface RackProps {
  /** In elution order. */
  readonly tubes: readonly ResultFraction[];
  readonly pools: readonly ResultPool[];
  readonly palette: Palette;
  /** Width of the drawing in units (CSS pixels at full size). */
  readonly width: number;
  /** Most tubes in a row. */
  readonly perRow: number;
  readonly fontSize: number;
  /** What a reader who can't see the picture is told. */
  readonly label: string;
}

/** The rack from above, row by row from the left, each pool bracketed below its tubes. */
export function rackSvg(props: RackProps): string {
  const { tubes, palette, width, fontSize } = props;
  const rows = evenRows(tubes.length, props.perRow);
  const slot = width / Math.max(1, rows[0][1] - rows[0][0]);
  const pitch = Math.min(slot, fontSize * 8);
  const r = Math.min(pitch * 0.36, fontSize * 2.4);
  const poolOf = tubes.map((t) => t.pool);
  const runs = rows.map(([start, end]) => bracketRuns(poolOf, start, end));
  const parts: Markup[] = [];
  let y = 4;
  for (const [row, [start, end]] of rows.entries()) {
    const cy = y + r + 6;
    const barY = cy + r + fontSize * 1.4 + 8;
    const brackets = runs[row].flatMap((run) =>
      bracketOf(run, isMainPiece(run, runs.flat()), start, props, pitch, barY),
    );
    const lines = Math.max(2, ...brackets.map((b) => b.lines));
    parts.push(
      markup`<rect x="1" y="${y}" width="${(end - start) * pitch - 2}" height="${2 * r + fontSize * 1.4 + 10}" rx="${Math.min(14, r * 0.5)}" class="d-rack"/>`,
      ...tubes
        .slice(start, end)
        .map((tube, i) => raw(tubeSvg({ tube, cx: (i + 0.5) * pitch, cy, r, palette, fontSize }))),
      ...brackets.map((b) => b.svg),
    );
    y = barY + BAR_HEIGHT + (lines + 0.4) * fontSize * 1.25 + fontSize;
  }
  return markup`<svg class="drawing" viewBox="0 0 ${width} ${y - fontSize}" role="img" aria-label="${props.label}">${parts}</svg>`
    .text;
}

function bracketOf(run: BracketRun, main: boolean, rowStart: number, props: RackProps, pitch: number, y: number) {
  const pool = props.pools.find((p) => p.id === run.pool);
  if (!pool) return [];
  const x0 = (run.start - rowStart) * pitch + (run.openLeft ? 0 : pitch * 0.08);
  const x1 = (run.end - rowStart) * pitch - (run.openRight ? 0 : pitch * 0.08);
  const room = x1 - x0 + pitch * 0.14;
  const label = main ? bracketLabel(pool, room, props.fontSize, 4) : pieceLabel(run, room, props.fontSize);
  const svg = raw(bracketSvg({ ...run, pool, x0, x1, y, palette: props.palette, label, fontSize: props.fontSize }));
  return [{ svg, lines: label.length }];
}
