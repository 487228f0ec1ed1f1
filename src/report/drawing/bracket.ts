import type { ResultPool } from "../../model/index.ts";
import { type Markup, markup } from "../markup.ts";
import { percent, volumeInWords } from "../words.ts";
import { tonedRect } from "./marks.ts";
import { type Palette, toneOf } from "./palette.ts";
import { fitText, textWidth } from "./text.ts";

/** A stretch of neighbouring places in one row that belong to one pool. */
export interface BracketRun {
  readonly pool: string;
  /** Places from `start` up to, not including, `end`. */
  readonly start: number;
  readonly end: number;
  /** The pool goes on in the row before or after. */
  readonly openLeft: boolean;
  readonly openRight: boolean;
}

/** Cuts the places `from` up to `to` of a sequence of pool ids (null: in none) into the brackets of one row. */
export function bracketRuns(pools: readonly (string | null)[], from: number, to: number): BracketRun[] {
  const runs: BracketRun[] = [];
  let start = from;
  for (let i = from + 1; i <= to; i++) {
    if (i < to && pools[i] === pools[start]) continue;
    const pool = pools[start];
    if (pool !== null) {
      const openLeft = start === from && start > 0 && pools[start - 1] === pool;
      const openRight = i === to && i < pools.length && pools[i] === pool;
      runs.push({ pool, start, end: i, openLeft, openRight });
    }
    start = i;
  }
  return runs;
}

export interface BracketProps {
  readonly pool: ResultPool;
  /** Left and right end, in units of the drawing. */
  readonly x0: number;
  readonly x1: number;
  /** Top of the bar. */
  readonly y: number;
  readonly openLeft: boolean;
  readonly openRight: boolean;
  readonly palette: Palette;
  /** Lines of text below the bar, see `bracketLabel`. */
  readonly label: readonly string[];
  readonly fontSize: number;
}

export const BAR_HEIGHT = 7;
const CAP = 5;

/**
 * What is written under a bracket: two lines where they fit into `width`; else up to `most` short ones; else the name
 * or the bare id.
 */
export function bracketLabel(pool: ResultPool, width: number, fontSize: number, most: number): string[] {
  const name = `Pool ${pool.id}`;
  const held = [pool.components.join("+"), pool.kind].filter(Boolean).join(" ");
  const volume = volumeInWords(pool.volume_ml);
  const sure = `${percent(pool.confidence)} sure`;
  const wide = [`${name} · ${held}`, [volume, sure].filter(Boolean).join(" · ")];
  const fits = (lines: readonly string[]) => lines.every((line, i) => textWidth(line, fontSize, i === 0) <= width);
  if (fits(wide)) return wide;
  const narrow = [name, held, volume, sure].filter(Boolean);
  if (narrow.length <= most) return narrow.map((line, i) => fitText(line, width, fontSize, i === 0));
  return fits([name]) ? [name] : [fitText(pool.id, width, fontSize, true)];
}

/** What stands under the lesser piece of a pool that goes over the end of a row, or stands in several places. */
export function pieceLabel(run: BracketRun, width: number, fontSize: number): string[] {
  const how = run.openLeft ? "continued" : run.openRight ? "goes on" : "here too";
  return [`Pool ${run.pool}`, how].map((t, i) => fitText(t, width, fontSize, i === 0));
}

/** Whether this run is the longest piece of its pool; of equal ones the first. */
export function isMainPiece(run: BracketRun, runs: readonly BracketRun[]): boolean {
  const pieces = runs.filter((r) => r.pool === run.pool);
  const longest = Math.max(...pieces.map((r) => r.end - r.start));
  return pieces.find((r) => r.end - r.start === longest) === run;
}

/** One pool bracket: a bar in the pool's tones with a cap at each end that is not open, and its label. */
export function bracketSvg(props: BracketProps): string {
  const { pool, x0, x1, y, openLeft, openRight, fontSize } = props;
  const caps = [
    openLeft ? "" : `M${x0} ${y - CAP}V${y + BAR_HEIGHT}`,
    openRight ? "" : `M${x1} ${y - CAP}V${y + BAR_HEIGHT}`,
  ].join("");
  const mid = (x0 + x1) / 2;
  const lines = props.label.map(
    (line, i) =>
      markup`<text x="${mid}" y="${y + BAR_HEIGHT + (i + 1) * fontSize * 1.25}" font-size="${fontSize}" class="${i === 0 ? "d-strong" : "d-soft"}" text-anchor="middle">${line}</text>`,
  );
  return markup`<g class="d-bracket" data-pool="${pool.id}">${bar(props)}<path d="${caps}" class="d-cap"/>${lines}</g>`
    .text;
}

/** A suggested pool that was not taken as it is: a thin line in no tone, with a cap at each end that is not open. */
export function suggestedSvg({ openLeft, openRight, pool, x0, x1, y, fontSize }: SuggestedProps): string {
  const caps = `${openLeft ? "" : `M${x0} ${y}v-${CAP}`}${openRight ? "" : `M${x1} ${y}v-${CAP}`}`;
  const held = [pool.components.join("+"), pool.kind].filter(Boolean).join(" ");
  const long = `suggested: pool ${pool.id} · ${held}`;
  const words = textWidth(long, fontSize) <= x1 - x0 ? long : fitText(`sugg. ${pool.id}`, x1 - x0, fontSize);
  return markup`<g class="d-suggested" data-suggested="${pool.id}"><title>${long}</title><path d="M${x0} ${y}H${x1}${caps}" class="d-other"/><text x="${(x0 + x1) / 2}" y="${y + fontSize * 1.1}" font-size="${fontSize}" class="d-soft" text-anchor="middle">${words}</text></g>`
    .text;
}

export type SuggestedProps = Pick<BracketProps, "openLeft" | "openRight" | "pool" | "x0" | "x1" | "y" | "fontSize">;

function bar({ pool, x0, x1, y, palette }: BracketProps): Markup {
  const width = Math.max(0, x1 - x0);
  if (pool.kind === "empty") {
    return markup`<rect x="${x0}" y="${y}" width="${width}" height="${BAR_HEIGHT}" class="d-emptybar"/>`;
  }
  const tones = pool.components.length > 0 ? pool.components : [null];
  if (pool.kind === "clean" || tones.length === 1) {
    return tonedRect(toneOf(palette, tones[0]), x0, y, width, BAR_HEIGHT, 4);
  }
  const pieces = tones.length * Math.max(1, Math.round(Math.min(width / 14, 12) / tones.length));
  const piece = width / pieces;
  return markup`${Array.from({ length: pieces }, (_, i) =>
    tonedRect(toneOf(palette, tones[i % tones.length]), x0 + i * piece, y, piece, BAR_HEIGHT, 4),
  )}`;
}
