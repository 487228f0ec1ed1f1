import type { ColumnPlan, ElutionProfile, PlanCheck } from "../../model/index.ts";
import { tonedRect } from "../drawing/marks.ts";
import { type Palette, toneOf } from "../drawing/palette.ts";
import { fitText, spreadLabels, textWidth } from "../drawing/text.ts";
import { type Markup, markup } from "../markup.ts";

export interface PlanChartProps {
  readonly plan: ColumnPlan;
  /** What the plates showed, drawn below what was planned; null before the column has run. */
  readonly found: { readonly profiles: readonly ElutionProfile[]; readonly check: PlanCheck } | null;
  readonly palette: Palette;
  readonly width: number;
  readonly fontSize: number;
}

interface Bar {
  readonly component: string;
  readonly amount: number;
}

interface Frame {
  readonly left: number;
  readonly step: number;
  readonly count: number;
  readonly fontSize: number;
  readonly palette: Palette;
}

/** Amounts over the tubes as the plan lets expect them, below them what was found, with the eluents above. */
export function planChartSvg({ plan, found, palette, width, fontSize }: PlanChartProps): string {
  const left = fontSize * 4.8;
  const count = Math.max(plan.tubes.length, found ? lastTube(found.profiles) : 0);
  const frame: Frame = { left, step: (width - left - fontSize * 0.5) / count, count, fontSize, palette };
  const eluents = eluentBar(plan, frame, width, 0);
  const top = fontSize * 3;
  const height = fontSize * 9;
  const expected = plan.tubes.map((tube) =>
    Object.entries(tube.composition).map(([component, share]) => ({ component, amount: share * tube.amount })),
  );
  const parts: Markup[] = [eluents, panel("planned", expected, frame, top, height, false)];
  let y = top + height;
  parts.push(tubeNumbers(frame, y));
  y += fontSize * 1.7;
  const bands = plan.bands.filter((band) => band.firstTube <= count);
  parts.push(
    ...bands.map((band, i) =>
      span(band.component, band.firstTube, Math.min(count, band.lastTube), frame, y + i * fontSize * 1.5),
    ),
  );
  y += bands.length * fontSize * 1.5 + fontSize * 0.6;
  if (found) {
    const seen = Array.from({ length: count }, (_, i) =>
      found.profiles.map((p) => ({
        component: p.component,
        amount: p.points.find((q) => q.fraction === i + 1)?.amount ?? 0,
      })),
    );
    parts.push(panel("found", seen, frame, y, height, true));
    y += height;
    parts.push(tubeNumbers(frame, y));
    y += fontSize * 1.7;
    const ranges = found.check.bands.flatMap((b) =>
      b.found && b.foundTubes ? [{ id: b.found, range: b.foundTubes }] : [],
    );
    parts.push(...ranges.map((b, i) => span(b.id, b.range[0], b.range[1], frame, y + i * fontSize * 1.5)));
    y += ranges.length * fontSize * 1.5 + fontSize * 0.6;
  }
  return markup`<svg class="drawing" viewBox="0 0 ${width} ${y}" role="img" aria-label="Amount of each component expected in each tube${found && ", and what was found"}">${parts}</svg>`
    .text;
}

function lastTube(profiles: readonly ElutionProfile[]): number {
  return Math.max(1, ...profiles.flatMap((p) => p.points.map((q) => q.fraction)));
}

/** The eluents along the top, each from the tube in which it is poured. */
function eluentBar(plan: ColumnPlan, frame: Frame, width: number, y: number): Markup {
  const { left, step, fontSize } = frame;
  const { fractionMl, request } = plan;
  const xOf = (ml: number) => Math.min(width, Math.max(left, left + ((ml - request.forerunMl) / fractionMl) * step));
  const end = left + step * plan.tubes.length;
  const parts = plan.eluents.map((eluent, i) => {
    const x0 = xOf(eluent.fromMl);
    const x1 = i + 1 < plan.eluents.length ? xOf(plan.eluents[i + 1].fromMl) : end;
    const name = `${eluent.eluent ?? (plan.eluents.length > 1 ? `eluent ${i + 1}` : "eluent")}${i > 0 ? `, from ${Math.round(eluent.fromMl)} mL` : ""}`;
    return markup`<g><title>${name}</title><path d="M${x0 + 1} ${y + fontSize * 1.5}H${x1 - 1}" class="${i % 2 === 0 ? "p-flow" : "p-flow p-flow2"}"/><text x="${x0 + 2}" y="${y + fontSize}" font-size="${fontSize * 0.88}" class="d-soft">${fitText(name, Math.max(fontSize * 4, x1 - x0 - 6), fontSize * 0.88)}</text></g>`;
  });
  const hold = xOf(plan.holdUpMl);
  return markup`${parts}<path d="M${hold} ${y + fontSize * 2.2}V${y + fontSize * 12}" class="d-guide"/><text x="${hold + 3}" y="${y + fontSize * 3}" font-size="${fontSize * 0.8}" class="d-soft">hold-up ${String(Math.round(plan.holdUpMl))} mL</text>`;
}

function panel(
  name: string,
  tubes: readonly (readonly Bar[])[],
  frame: Frame,
  top: number,
  height: number,
  found: boolean,
): Markup {
  const { left, step, palette, fontSize } = frame;
  const base = top + height;
  const most = Math.max(1e-12, ...tubes.map((bars) => bars.reduce((sum, b) => sum + b.amount, 0)));
  const room = height - fontSize * 1.6;
  const order = (b: Bar) => palette.findIndex((t) => t.component === b.component);
  const bars = tubes.map((list, i) => {
    let y = base;
    return [...list]
      .sort((a, b) => order(a) - order(b))
      .map((bar) => {
        const h = (bar.amount / most) * room;
        if (h < 0.4) return null;
        y -= h;
        return tonedRect(toneOf(palette, bar.component), left + i * step + step * 0.07, y, step * 0.86, h, 4.5);
      });
  });
  return markup`<path d="M${left} ${base}H${left + step * frame.count}" class="d-axis"/>${bars}<text x="0" y="${base - fontSize * 0.2}" font-size="${fontSize}" class="${found ? "d-strong" : "d-soft"}">${name}</text>${letters(tubes, frame, base, room, most)}`;
}

/** The letter of each component over its highest tube, moved apart where two would touch. */
function letters(tubes: readonly (readonly Bar[])[], frame: Frame, base: number, room: number, most: number): Markup {
  const { left, step, fontSize, palette } = frame;
  const ids = [...new Set(tubes.flatMap((bars) => bars.filter((b) => b.amount > 0).map((b) => b.component)))];
  const peaks = ids
    .map((id) => {
      const amounts = tubes.map((bars) => bars.find((b) => b.component === id)?.amount ?? 0);
      const at = amounts.indexOf(Math.max(...amounts));
      const sum = tubes[at].reduce((s, b) => s + b.amount, 0);
      return { id, x: left + (at + 0.5) * step, y: base - (sum / most) * room - fontSize * 0.45 };
    })
    .sort((a, b) => a.x - b.x);
  const xs = spreadLabels(
    peaks.map((p) => p.x),
    fontSize * 1.1,
    left,
    left + step * frame.count,
  );
  return markup`${peaks.map((p, i) => markup`<text x="${xs[i]}" y="${p.y}" font-size="${fontSize}" class="d-strong" text-anchor="middle">${toneOf(palette, p.id).letter}</text>`)}`;
}

function tubeNumbers(frame: Frame, y: number): Markup {
  const { left, step, count, fontSize } = frame;
  const size = fontSize * 0.85;
  const every = [1, 2, 5, 10, 20, 50].find((n) => n * step > textWidth(String(count), size) + 4) ?? 100;
  const numbers = Array.from({ length: count }, (_, i) => i + 1).filter((n) => n === 1 || n % every === 0);
  return markup`${numbers.map((n) => markup`<text x="${left + (n - 0.5) * step}" y="${y + fontSize * 1.1}" font-size="${size}" class="d-soft" text-anchor="middle">${String(n)}</text>`)}<text x="0" y="${y + fontSize * 1.1}" font-size="${size}" class="d-soft">tube</text>`;
}

/** One component's tubes as a bar under the numbers. */
function span(component: string, from: number, to: number, frame: Frame, y: number): Markup {
  const { left, step, fontSize, palette } = frame;
  const x0 = left + (from - 1) * step + 1;
  const x1 = left + to * step - 1;
  const words = from === to ? `${component}: tube ${from}` : `${component}: tubes ${from}–${to}`;
  const size = fontSize * 0.88;
  const after = x1 + 6 + textWidth(words, size) < left + step * frame.count;
  const text = after
    ? markup`<text x="${x1 + 6}" y="${y + fontSize * 0.75}" font-size="${size}" class="d-text">${words}</text>`
    : markup`<text x="${x0 - 6}" y="${y + fontSize * 0.75}" font-size="${size}" class="d-text" text-anchor="end">${words}</text>`;
  return markup`<g>${tonedRect(toneOf(palette, component), x0, y, Math.max(2, x1 - x0), fontSize * 0.75, 4)}${text}</g>`;
}

export const PLAN_CHART_CSS = `
.p-flow{stroke:var(--edge);stroke-width:5;fill:none}
.p-flow2{stroke-dasharray:5 2}
`;
