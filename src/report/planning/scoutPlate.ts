import type { EluentRanking, TrialAssessment, TrialSpot } from "../../model/index.ts";
import { toneMarks } from "../drawing/marks.ts";
import { type Palette, toneOf } from "../drawing/palette.ts";
import { spreadLabels } from "../drawing/text.ts";
import { type Markup, markup } from "../markup.ts";
import { rfInWords } from "../words.ts";

export interface ScoutPlateProps {
  readonly ranking: EluentRanking;
  readonly palette: Palette;
  readonly width: number;
  readonly fontSize: number;
}

/** York's workable range and Still's ideal, as drawn behind the lanes. */
const RANGE = [0.15, 0.6] as const;

/**
 * All eluents tried, as lanes of one plate, the best first: spots at their Rf, as tall as they were, a letter in each;
 * the range in which a separation is workable shaded.
 */
export function scoutPlateSvg({ ranking, palette, width, fontSize }: ScoutPlateProps): string {
  const { trials, wanted } = ranking;
  const left = fontSize * 2.6;
  const right = fontSize * 6.2;
  const height = fontSize * 24;
  const top = fontSize * 1.2;
  const slot = Math.min((width - left - right) / Math.max(1, trials.length), fontSize * 6);
  const end = left + slot * trials.length;
  const y = (rf: number) => top + (1 - rf) * height;
  const lanes = trials.map((trial, i) => lane(trial, left + (i + 0.5) * slot, slot, y, palette, wanted, fontSize));
  const ticks = [0, 0.2, 0.4, 0.6, 0.8, 1].map(
    (rf) =>
      markup`<path d="M${left - 4} ${y(rf)}H${left}" class="d-axis"/><text x="${left - 7}" y="${y(rf) + fontSize * 0.34}" font-size="${fontSize * 0.85}" class="d-soft" text-anchor="end">${rf.toFixed(1)}</text>`,
  );
  const labels = [
    markup`<text x="${end + 8}" y="${y(RANGE[1]) + fontSize}" font-size="${fontSize * 0.85}" class="d-soft">workable,</text><text x="${end + 8}" y="${y(RANGE[1]) + fontSize * 2.1}" font-size="${fontSize * 0.85}" class="d-soft">${RANGE[0]}–${RANGE[1].toFixed(2)}</text>`,
    markup`<text x="${end + 8}" y="${y(1) + fontSize * 0.35}" font-size="${fontSize * 0.85}" class="d-soft">front</text><text x="${end + 8}" y="${y(0) + fontSize * 0.35}" font-size="${fontSize * 0.85}" class="d-soft">origin</text>`,
  ];
  const total = top + height + fontSize * 3.4;
  return markup`<svg class="drawing" viewBox="0 0 ${width} ${total}" role="img" aria-label="Spots of every eluent on one Rf axis, the best eluent on the left"><rect x="${left}" y="${top - fontSize * 0.4}" width="${end - left}" height="${height + fontSize * 0.8}" class="d-rack"/><rect x="${left}" y="${y(RANGE[1])}" width="${end - left}" height="${y(RANGE[0]) - y(RANGE[1])}" class="p-range"/><path d="M${left} ${y(1)}H${end}M${left} ${y(0)}H${end}" class="d-axis"/>${ticks}${labels}${lanes}</svg>`
    .text;
}

function lane(
  trial: TrialAssessment,
  x: number,
  slot: number,
  y: (rf: number) => number,
  palette: Palette,
  wanted: string | null,
  fontSize: number,
): Markup {
  const heights = spreadLabels(
    trial.spots.map((spot) => y(spot.rf)),
    fontSize * 0.9,
    y(1),
    y(0) + fontSize * 0.4,
  );
  const spots = trial.spots.map((spot, i) =>
    spotMark(spot, x, slot, y, heights[i], palette, spot.component === wanted, fontSize),
  );
  const below = y(0) + fontSize * 1.9;
  const first = trial.rank === 1;
  return markup`<g><title>${trial.eluent.text}: ${trial.reason}</title>${first && markup`<rect x="${x - slot / 2 + 2}" y="${y(1) - fontSize * 0.2}" width="${slot - 4}" height="${y(0) - y(1) + fontSize * 2.7}" rx="4" class="p-best"/>`}<path d="M${x} ${y(1)}V${y(0)}" class="d-guide"/>${spots}<text x="${x}" y="${below}" font-size="${fontSize}" class="${first ? "d-strong" : "d-text"}" text-anchor="middle">${String(trial.rank)}</text></g>`;
}

function spotMark(
  spot: TrialSpot,
  x: number,
  slot: number,
  y: (rf: number) => number,
  letterY: number,
  palette: Palette,
  wanted: boolean,
  fontSize: number,
): Markup {
  const tone = toneOf(palette, spot.component);
  const rx = Math.min(slot * 0.26, fontSize * 1.05);
  const ry = Math.max(fontSize * 0.5, Math.abs(y(0) - y(spot.widthRf)) * 0.75);
  const cy = y(spot.rf);
  const ring = Array.from({ length: 36 }, (_, i) => {
    const a = (2 * Math.PI * i) / 36;
    return [x + rx * Math.sin(a), cy - ry * Math.cos(a)] as const;
  });
  const letter = markup`<text x="${x + rx + 2}" y="${letterY + fontSize * 0.33}" font-size="${fontSize * 0.85}" class="${wanted ? "d-strong" : "d-soft"}">${tone.letter}</text>`;
  return markup`<g><title>${spot.component}: Rf ${rfInWords(spot.rf)}</title><ellipse cx="${x}" cy="${cy}" rx="${rx}" ry="${ry}" fill="${tone.colour}" class="${wanted ? "p-wanted" : "d-rim"}"/>${toneMarks(tone, ring, 4)}${slot > fontSize * 2.2 && letter}</g>`;
}

export const SCOUT_PLATE_CSS = `
.p-range{fill:var(--edge);fill-opacity:.16}
.p-best{fill:none;stroke:var(--link);stroke-width:1.6}
.p-wanted{stroke:var(--ink);stroke-width:1.8}
`;
