import type { ResultFraction, ResultPool } from "../../model/index.ts";
import type { Division } from "../division.ts";
import { type Markup, markup, raw } from "../markup.ts";
import {
  BAR_HEIGHT,
  type BracketRun,
  bracketLabel,
  bracketRuns,
  bracketSvg,
  isMainPiece,
  pieceLabel,
  suggestedSvg,
} from "./bracket.ts";
import type { Palette } from "./palette.ts";
import { evenRows } from "./text.ts";
import { tubeInWords, tubeSvg } from "./tube.ts";

export interface RackProps {
  /** In elution order. */
  readonly tubes: readonly ResultFraction[];
  readonly pools: readonly ResultPool[];
  /** Suggested pools that were not taken as they are, drawn below, and by tube what was suggested for it. */
  readonly suggested?: Pick<Division, "otherwise" | "elsewhere">;
  readonly palette: Palette;
  /** Width of the drawing in units (CSS pixels at full size). */
  readonly width: number;
  /** Most tubes in a row. */
  readonly perRow: number;
  readonly fontSize: number;
}

/** The rack from above, one drawing per row from the first tube on, each pool bracketed below its tubes. */
export function rackSvgs(props: RackProps): string[] {
  const rows = evenRows(props.tubes.length, props.perRow);
  const poolOf = props.tubes.map((t) => t.pool);
  const runs = rows.map(([start, end]) => bracketRuns(poolOf, start, end));
  const others = props.suggested?.otherwise ?? [];
  const otherOf = props.tubes.map((t) => others.find((p) => p.fractions.includes(t.number))?.id ?? null);
  const pitch = Math.min(props.width / Math.max(1, rows[0][1] - rows[0][0]), props.fontSize * 8);
  return rows.map(([start, end], i) => {
    const pieces = runs[i].map((run) => ({ run, main: isMainPiece(run, runs.flat()) }));
    return rackRow(props, start, props.tubes.slice(start, end), pieces, bracketRuns(otherOf, start, end), pitch);
  });
}

interface Piece {
  readonly run: BracketRun;
  readonly main: boolean;
}

function rackRow(
  props: RackProps,
  start: number,
  tubes: readonly ResultFraction[],
  pieces: readonly Piece[],
  others: readonly BracketRun[],
  pitch: number,
): string {
  const { palette, width, fontSize, suggested } = props;
  const r = Math.min(pitch * 0.36, fontSize * 2.4);
  const cy = r + 10;
  const barY = cy + r + fontSize * 1.4 + 8;
  const brackets = pieces.flatMap((piece) => bracketOf(piece, start, props, pitch, barY));
  const lines = Math.max(2, ...brackets.map((b) => b.lines));
  const otherY = barY + BAR_HEIGHT + (lines + 1) * fontSize * 1.25;
  const height = others.length > 0 ? otherY + fontSize * 1.6 : otherY - fontSize * 0.75;
  const elsewhere = (tube: ResultFraction) => suggested?.elsewhere.get(tube.number) ?? null;
  const label = tubes.map((tube) => tubeInWords(tube, elsewhere(tube))).join(". ");
  return markup`<svg class="drawing" viewBox="0 0 ${width} ${height}" role="img" aria-label="${label}"><rect x="1" y="4" width="${tubes.length * pitch - 2}" height="${2 * r + fontSize * 1.4 + 10}" rx="${Math.min(14, r * 0.5)}" class="d-rack"/>${tubes.map((tube, i) => raw(tubeSvg({ tube, suggested: elsewhere(tube), cx: (i + 0.5) * pitch, cy, r, palette, fontSize })))}${brackets.map((b) => b.svg)}${others.map((run) => otherOf(run, start, props, pitch, otherY))}</svg>`
    .text;
}

function otherOf(run: BracketRun, rowStart: number, props: RackProps, pitch: number, y: number): Markup {
  const pool = props.suggested?.otherwise.find((p) => p.id === run.pool);
  if (!pool) return markup``;
  const x0 = (run.start - rowStart) * pitch + (run.openLeft ? 0 : pitch * 0.08);
  const x1 = (run.end - rowStart) * pitch - (run.openRight ? 0 : pitch * 0.08);
  return raw(suggestedSvg({ ...run, pool, x0, x1, y, fontSize: props.fontSize * 0.92 }));
}

function bracketOf(
  { run, main }: Piece,
  rowStart: number,
  props: RackProps,
  pitch: number,
  y: number,
): { svg: Markup; lines: number }[] {
  const pool = props.pools.find((p) => p.id === run.pool);
  if (!pool) return [];
  const x0 = (run.start - rowStart) * pitch + (run.openLeft ? 0 : pitch * 0.08);
  const x1 = (run.end - rowStart) * pitch - (run.openRight ? 0 : pitch * 0.08);
  const room = x1 - x0 + pitch * 0.14;
  const label = main ? bracketLabel(pool, room, props.fontSize, 4) : pieceLabel(run, room, props.fontSize);
  const svg = raw(bracketSvg({ ...run, pool, x0, x1, y, palette: props.palette, label, fontSize: props.fontSize }));
  return [{ svg, lines: label.length }];
}
