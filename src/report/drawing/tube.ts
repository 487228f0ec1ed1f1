import type { ResultFraction } from "../../model/index.ts";
import { coordinate, type Markup, markup } from "../markup.ts";
import { componentsInWords, percent } from "../words.ts";
import { toneMarks } from "./marks.ts";
import { type Palette, toneOf } from "./palette.ts";

/** Below this confidence a tube is marked even where nothing is said about it. */
export const DOUBT_BELOW = 0.8;

/** Whether a tube deserves a second look; that nobody spotted it is shown apart and is no doubt of itself. */
export function isDoubtful(tube: Pick<ResultFraction, "confidence" | "reason" | "seen">): boolean {
  return tube.confidence < DOUBT_BELOW || (tube.seen && tube.reason !== null);
}

/** Components of a tube with their shares, the largest first, without traces below 1 %. */
export function sharesOf(tube: Pick<ResultFraction, "composition">): [component: string, share: number][] {
  return Object.entries(tube.composition)
    .filter(([, share]) => share >= 0.01)
    .sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1));
}

/** A share as it is written after its component: "only" where nothing else shows, not even a trace. */
export function shareInWords({ composition }: Pick<ResultFraction, "composition">, share: number): string {
  return Object.keys(composition).length === 1 ? "only" : percent(share);
}

/**
 * One tube in one line: "Tube 7: clean, A 98 %, B 2 %; pool 2, 96 % sure".
 * @param suggested the pool suggested for it, where it was put elsewhere
 */
export function tubeInWords(tube: ResultFraction, suggested: string | null = null): string {
  const shares = sharesOf(tube).map(([c, s]) => `${c} ${shareInWords(tube, s)}`);
  const state = tube.seen ? tube.state : `${tube.state} (not spotted, inferred from its neighbours)`;
  const sure = `${percent(tube.confidence)} sure`;
  const pool = tube.pool === null ? "in no pool" : `pool ${tube.pool}`;
  const by = suggested !== null ? ` (suggested: pool ${suggested}, ${sure})` : tube.pool === null ? "" : `, ${sure}`;
  return `Tube ${tube.number}: ${[state, ...shares].join(", ")}; ${pool}${by}${isDoubtful(tube) ? "; doubtful" : ""}`;
}

export interface TubeProps {
  readonly tube: ResultFraction;
  /** The pool suggested for it, where it was put elsewhere. */
  readonly suggested?: string | null;
  readonly cx: number;
  readonly cy: number;
  readonly r: number;
  readonly palette: Palette;
  readonly fontSize: number;
}

/** A tube seen from above: its number in the middle, what it holds around it, its letters below. */
export function tubeSvg({ tube, suggested, cx, cy, r, palette, fontSize }: TubeProps): string {
  const shares = tube.state === "empty" ? [] : sharesOf(tube);
  const letters = componentsInWords(shares.filter(([, s]) => s >= 0.05).map(([c]) => toneOf(palette, c).letter));
  const classes = ["d-tube", tube.seen ? "" : "d-unseen", tube.state === "empty" ? "d-void" : ""]
    .filter(Boolean)
    .join(" ");
  return markup`<g class="${classes}" data-tube="${tube.number}"><title>${tubeInWords(tube, suggested)}</title><circle cx="${cx}" cy="${cy}" r="${r}" class="d-glass"/><g class="d-fill">${wedges(shares, cx, cy, r - 3.5, palette)}</g><circle cx="${cx}" cy="${cy}" r="${r * 0.54}" class="d-hub"/><text x="${cx}" y="${cy + fontSize * 0.36}" font-size="${fontSize}" class="d-strong" text-anchor="middle">${tube.number}</text><text x="${cx}" y="${cy + r + fontSize * 1.05}" font-size="${fontSize * 0.92}" class="${shares.length ? "d-text" : "d-soft"}" text-anchor="middle">${letters}</text>${isDoubtful(tube) && doubtBadge(cx + r * 0.74, cy - r * 0.74, r * 0.34)}</g>`
    .text;
}

function doubtBadge(cx: number, cy: number, r: number): Markup {
  return markup`<circle cx="${cx}" cy="${cy}" r="${r}" class="d-doubt"/><text x="${cx}" y="${cy + r * 0.52}" font-size="${r * 1.5}" class="d-doubtmark" text-anchor="middle">?</text>`;
}

/** Shares as sectors, clockwise from the top. */
function wedges(
  shares: readonly (readonly [string, number])[],
  cx: number,
  cy: number,
  r: number,
  palette: Palette,
): Markup {
  const total = shares.reduce((sum, [, s]) => sum + s, 0);
  let turn = 0;
  return markup`${shares.map(([component, share]) => {
    const tone = toneOf(palette, component);
    const from = turn;
    turn += share / total;
    const steps = Math.max(2, Math.ceil((turn - from) * 48));
    const arc = Array.from({ length: steps + 1 }, (_, i) => onCircle(cx, cy, r, from + ((turn - from) * i) / steps));
    const corners = shares.length === 1 ? arc.slice(1) : [[cx, cy] as const, ...arc];
    const d = `M${corners.map(([x, y]) => `${coordinate(x)} ${coordinate(y)}`).join("L")}Z`;
    return markup`<path d="${d}" fill="${tone.colour}" class="d-rim"/>${toneMarks(tone, corners, r / 4.5)}`;
  })}`;
}

function onCircle(cx: number, cy: number, r: number, turn: number): [number, number] {
  const angle = 2 * Math.PI * turn;
  return [cx + r * Math.sin(angle), cy - r * Math.cos(angle)];
}
