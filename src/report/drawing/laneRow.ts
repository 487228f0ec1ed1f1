import type { Light, ResultComponent, ResultPool } from "../../model/index.ts";
import { type Markup, markup, raw } from "../markup.ts";
import { BAR_HEIGHT, bracketLabel, bracketRuns, bracketSvg } from "./bracket.ts";
import { type Palette, toneOf } from "./palette.ts";
import { placeLane, type StripWindow, windowY } from "./placement.ts";
import { type LaneSlot, slotWeight } from "./slots.ts";
import { laneStripSvg, type PlatePicture } from "./strip.ts";
import { fitText, spreadLabels } from "./text.ts";
import { isDoubtful, tubeInWords } from "./tube.ts";

/** One light (and stain) under which plates were photographed, with a picture of each plate it has. */
export interface LightRow {
  readonly light: Light;
  readonly name: string;
  /** By plate id. */
  readonly pictures: ReadonlyMap<string, PlatePicture>;
}

export interface LaneRowProps {
  readonly references: readonly LaneSlot[];
  readonly slots: readonly LaneSlot[];
  /** Pool ids of the places just before and after this row, so that brackets that go on stay open. */
  readonly poolBefore: string | null;
  readonly poolAfter: string | null;
  readonly lights: readonly LightRow[];
  readonly components: readonly ResultComponent[];
  readonly pools: readonly ResultPool[];
  /** Pools suggested for tubes that were put elsewhere. */
  readonly elsewhere?: ReadonlyMap<number, string>;
  readonly palette: Palette;
  readonly width: number;
  /** Width of one strip's place, letters included. */
  readonly slotWidth: number;
  readonly stripHeight: number;
  readonly fontSize: number;
  readonly label: string;
}

/** Room for the Rf scale on the left and for the components' names on the right, in font sizes. */
export const GUTTER = { left: 2.6, right: 4.4, references: 1.6 } as const;
/** Room for marks and letters beside a strip, in font sizes. */
const BESIDE = 1.4;
const RF = { rfTop: 1.07, rfBottom: -0.07 } as const;

/** Strips side by side in elution order on one Rf scale, a row of them per light, with tube numbers and brackets below. */
export function laneRowSvg(props: LaneRowProps): string {
  const { fontSize, stripHeight, lights } = props;
  const left = GUTTER.left * fontSize;
  const refEnd = left + props.references.length * props.slotWidth;
  const tubesAt = props.references.length > 0 ? refEnd + GUTTER.references * fontSize : left;
  const places = [...spread(props.references, left, props.slotWidth), ...spread(props.slots, tubesAt, props.slotWidth)];
  const end = Math.max(...places.map((p) => p.x + p.width), left);
  const header = fontSize * 2;
  const parts: Markup[] = [];
  let y = 0;
  for (const light of lights) {
    y += header;
    parts.push(
      markup`<text x="0" y="${y - fontSize * 0.6}" font-size="${fontSize}" class="d-soft">${light.name}</text>`,
    );
    parts.push(scale(props, y, left, end));
    parts.push(...places.map((place) => strip(props, light, place, y)));
    y += stripHeight + fontSize * 0.5;
  }
  y += fontSize * 1.1;
  parts.push(...places.map((place) => slotLabel(props, place, y)));
  y += fontSize * (props.slots.some((s) => s.fraction && isDoubtful(s.fraction)) ? 2 : 0.9);
  const { svg, lines } = brackets(props, places.slice(props.references.length), y);
  const height = y + BAR_HEIGHT + (lines + 0.5) * fontSize * 1.25;
  return markup`<svg class="drawing" viewBox="0 0 ${props.width} ${height}" role="img" aria-label="${props.label}">${parts}${svg}</svg>`
    .text;
}

interface Place {
  readonly slot: LaneSlot;
  readonly x: number;
  readonly width: number;
}

function spread(slots: readonly LaneSlot[], from: number, unit: number): Place[] {
  let x = from;
  return slots.map((slot) => {
    const width = slotWeight(slot) * unit;
    x += width;
    return { slot, x: x - width, width };
  });
}

function strip(props: LaneRowProps, light: LightRow, { slot, x, width }: Place, y: number): Markup {
  const { fontSize, stripHeight } = props;
  if (!slot.plate || !slot.lane) {
    return markup`<rect x="${x + width * 0.12}" y="${y}" width="${width * 0.6}" height="${stripHeight}" class="d-unspotted"/>`;
  }
  const window: StripWindow = { width: width - fontSize * BESIDE, height: stripHeight, ...RF };
  return raw(
    laneStripSvg({
      picture: light.pictures.get(slot.plate.id) ?? null,
      place: placeLane(slot.plate, slot.lane),
      spots: slot.lane.spots,
      light: light.light,
      palette: props.palette,
      x,
      y,
      window,
      beside: fontSize * BESIDE,
      fontSize,
    }),
  );
}

/** Rf scale, and a dotted line at each component's Rf that runs behind the strips. */
function scale(
  { components, palette, stripHeight, fontSize }: LaneRowProps,
  y: number,
  x0: number,
  x1: number,
): Markup {
  const at = (rf: number) => y + windowY({ width: 1, height: stripHeight, ...RF }, rf);
  const ticks = [0, 0.2, 0.4, 0.6, 0.8, 1].map(
    (rf) =>
      markup`<text x="${x0 - fontSize * 0.7}" y="${at(rf) + fontSize * 0.34}" font-size="${fontSize * 0.9}" class="d-soft" text-anchor="end">${rf === 0 || rf === 1 ? String(rf) : rf.toFixed(1)}</text><path d="M${x0 - fontSize * 0.45} ${at(rf)}h${fontSize * 0.3}" class="d-axis"/>`,
  );
  const sorted = [...components].sort((a, b) => b.rf - a.rf);
  const labels = spreadLabels(
    sorted.map((c) => at(c.rf)),
    fontSize * 1.05,
    y + fontSize * 0.4,
    y + stripHeight - fontSize * 0.4,
  );
  const guides = sorted.map((c, i) => {
    const tone = toneOf(palette, c.id);
    return markup`<path d="M${x0} ${at(c.rf)}H${x1}L${x1 + fontSize * 0.5} ${labels[i]}" class="d-guide"/><text x="${x1 + fontSize * 0.7}" y="${labels[i] + fontSize * 0.34}" font-size="${fontSize * 0.9}" class="d-text"><tspan class="d-strong">${tone.letter}</tspan> ${c.rf.toFixed(2)}</text>`;
  });
  return markup`${ticks}${guides}`;
}

function slotLabel({ fontSize, elsewhere }: LaneRowProps, { slot, x, width }: Place, y: number): Markup {
  const mid = x + (slot.lane ? (width - fontSize * BESIDE) / 2 : width * 0.42);
  const doubtful = slot.fraction !== null && isDoubtful(slot.fraction);
  const other = elsewhere?.get(slot.fraction?.number ?? 0) ?? null;
  const told = slot.fraction ? tubeInWords(slot.fraction, other) : `Reference lane ${slot.label}`;
  const text = slot.fraction ? slot.label : fitText(slot.label, width * 0.96, fontSize);
  const kind = doubtful ? "d-doubttext" : slot.lane ? "d-strong" : "d-soft";
  return markup`<g><title>${told}</title><text x="${mid}" y="${y}" font-size="${fontSize}" class="${kind}" text-anchor="middle">${text}</text>${doubtful && markup`<text x="${mid}" y="${y + fontSize * 1.1}" font-size="${fontSize}" class="d-doubttext" text-anchor="middle">?</text>`}</g>`;
}

function brackets(props: LaneRowProps, places: readonly Place[], y: number): { svg: Markup[]; lines: number } {
  const { fontSize, palette } = props;
  const ids = places.map((p) => p.slot.fraction?.pool ?? null);
  const around = [props.poolBefore, ...ids, props.poolAfter];
  let lines = 0;
  const svg = bracketRuns(around, 1, ids.length + 1).flatMap((run) => {
    const pool = props.pools.find((p) => p.id === run.pool);
    if (!pool) return [];
    const last = places[run.end - 2];
    const x0 = places[run.start - 1].x;
    const x1 = last.x + last.width - (run.openRight ? 0 : fontSize * 0.7);
    const label = bracketLabel(pool, x1 - x0 + fontSize * 0.6, fontSize, 2);
    lines = Math.max(lines, label.length);
    return [raw(bracketSvg({ ...run, pool, x0, x1, y, palette, label, fontSize }))];
  });
  return { svg, lines };
}
