import type { ElutionProfile, ResultComponent, ResultFraction, ResultPool } from "../../model/index.ts";
import { coordinate, type Markup, markup, raw } from "../markup.ts";
import { percent } from "../words.ts";
import { BAR_HEIGHT, bracketLabel, bracketRuns, bracketSvg } from "./bracket.ts";
import { tonedRect, toneMarks } from "./marks.ts";
import { type Palette, toneOf } from "./palette.ts";
import { fitText } from "./text.ts";
import { sharesOf } from "./tube.ts";

export interface ProfileProps {
  readonly profiles: readonly ElutionProfile[];
  readonly components: readonly ResultComponent[];
  readonly tubes: readonly ResultFraction[];
  readonly pools: readonly ResultPool[];
  readonly palette: Palette;
  readonly width: number;
  readonly fontSize: number;
  readonly label: string;
}

/** Standard deviations to either side that hold 90 % of a normal distribution (its 0.95 quantile; any handbook table). */
export const Z90 = 1.645;

/** Share of each component in all that the plates show, summed over the tubes. */
export function totalShares(profiles: readonly ElutionProfile[]): ReadonlyMap<string, number> {
  const sums = profiles.map((p) => p.points.reduce((sum, q) => sum + Math.max(0, q.amount), 0));
  const total = sums.reduce((a, b) => a + b, 0);
  return new Map(profiles.map((p, i) => [p.component, total > 0 ? sums[i] / total : 0]));
}

/** A row per component (amount over the tubes, 90 % band, what the lanes say), then the shares tube by tube, then brackets. */
export function profileSvg(props: ProfileProps): string {
  const { fontSize, width, tubes } = props;
  const left = fontSize * 4.6;
  const step = (width - left - fontSize * 0.6) / Math.max(1, tubes.length);
  const xOf = new Map(tubes.map((t, i) => [t.number, left + (i + 0.5) * step]));
  const rowHeight = fontSize * 5;
  const shares = totalShares(props.profiles);
  const parts: Markup[] = [];
  let y = fontSize;
  for (const profile of props.profiles) {
    parts.push(row(props, profile, shares.get(profile.component) ?? 0, xOf, y, rowHeight - fontSize * 0.9));
    y += rowHeight;
  }
  parts.push(shareBars(props, left, step, y, rowHeight * 0.9));
  y += rowHeight * 0.9;
  parts.push(tubeAxis(props, xOf, step, y));
  y += fontSize * 2.2;
  const { svg, lines } = brackets(props, left, step, y);
  const height = y + BAR_HEIGHT + (lines + 0.5) * fontSize * 1.25;
  return markup`<svg class="drawing" viewBox="0 0 ${width} ${height}" role="img" aria-label="${props.label}">${parts}${svg}</svg>`
    .text;
}

function row(
  { components, palette, fontSize, width }: ProfileProps,
  profile: ElutionProfile,
  share: number,
  xOf: ReadonlyMap<number, number>,
  top: number,
  height: number,
): Markup {
  const tone = toneOf(palette, profile.component);
  const points = profile.points.filter((p) => xOf.has(p.fraction));
  const most = Math.max(1e-12, ...points.map((p) => Math.max(p.amount + Z90 * p.sd, p.measured ?? 0)));
  const base = top + height;
  const at = (fraction: number, amount: number): [number, number] => [
    xOf.get(fraction) ?? 0,
    base - (Math.max(0, amount) / most) * height,
  ];
  const curve = points.map((p) => at(p.fraction, p.amount));
  const upper = points.map((p) => at(p.fraction, p.amount + Z90 * p.sd));
  const lower = points.map((p) => at(p.fraction, p.amount - Z90 * p.sd));
  const rf = components.find((c) => c.id === profile.component)?.rf;
  const foot = points.length > 0 ? [at(points[points.length - 1].fraction, 0), at(points[0].fraction, 0)] : [];
  const area = markup`<path d="${path([...curve, ...foot])}" fill="${tone.colour}" class="d-area"/>${toneMarks(tone, [...curve, ...foot], 6)}<path d="${path([...upper, ...lower.toReversed()])}" class="d-band"/><path d="${path(curve)}" class="d-line"/>`;
  const dots = points
    .filter((p) => p.measured !== null && Math.max(p.measured, p.amount) > most * 0.02)
    .map((p) => {
      const [cx, cy] = at(p.fraction, p.measured ?? 0);
      return markup`<circle cx="${cx}" cy="${cy}" r="${Math.min(2.6, fontSize * 0.22)}" class="d-dot"/>`;
    });
  return markup`<g data-component="${profile.component}"><path d="M${fontSize * 4.6} ${base}H${width - fontSize * 0.6}" class="d-base"/>${area}${dots}${tonedRect(tone, 0, base - fontSize * 2.3, fontSize * 0.9, fontSize * 0.9, 4)}<text x="${fontSize * 1.2}" y="${base - fontSize * 1.5}" font-size="${fontSize}" class="d-strong">${fitText(profile.component, fontSize * 3.2, fontSize)}</text><text x="0" y="${base - fontSize * 0.1}" font-size="${fontSize * 0.85}" class="d-soft">${rf === undefined ? "" : `Rf ${rf.toFixed(2)}`}</text><text x="${fontSize * 2.4}" y="${base - fontSize * 1.5}" font-size="${fontSize * 0.85}" class="d-soft">${percent(share)}</text></g>`;
}

function path(points: readonly (readonly [number, number])[]): string {
  return points.length === 0 ? "" : `M${points.map(([x, y]) => `${coordinate(x)} ${coordinate(y)}`).join("L")}`;
}

function shareBars(
  { tubes, palette, fontSize }: ProfileProps,
  left: number,
  step: number,
  top: number,
  room: number,
): Markup {
  const height = room - fontSize;
  const bars = tubes.map((tube, i) => {
    const x = left + i * step + step * 0.1;
    const width = step * 0.8;
    if (tube.state === "empty") return markup`<path d="M${x} ${top + height}h${width}" class="d-axis"/>`;
    const shares = sharesOf(tube);
    const total = shares.reduce((sum, [, s]) => sum + s, 0);
    let y = top + height;
    return shares
      .sort((a, b) => order(palette, a[0]) - order(palette, b[0]))
      .map(([component, share]) => {
        const h = (share / total) * height;
        y -= h;
        const bar = tonedRect(toneOf(palette, component), x, y, width, h);
        return tube.seen ? bar : markup`<g class="d-elsewhere">${bar}</g>`;
      });
  });
  return markup`<text x="0" y="${top + height}" font-size="${fontSize * 0.85}" class="d-soft">shares</text>${bars}`;
}

function order(palette: Palette, component: string): number {
  return palette.findIndex((t) => t.component === component);
}

/** Numbers below the bars, as many as fit: every tube, or every second, fifth, tenth. */
function tubeAxis(
  { tubes, fontSize }: ProfileProps,
  xOf: ReadonlyMap<number, number>,
  step: number,
  y: number,
): Markup {
  const wide = fontSize * 1.5;
  const every = [1, 2, 5, 10, 20, 50, 100].find((n) => n * step >= wide) ?? 200;
  const numbers = tubes.map(
    (t, i) =>
      (t.number % every === 0 || (i === 0 && every <= 5 && (every - 1) * step >= wide * 0.7)) &&
      markup`<text x="${xOf.get(t.number) ?? 0}" y="${y}" font-size="${fontSize * 0.9}" class="d-text" text-anchor="middle">${t.number}</text>`,
  );
  return markup`<text x="0" y="${y}" font-size="${fontSize * 0.85}" class="d-soft">tube</text>${numbers}`;
}

function brackets(props: ProfileProps, left: number, step: number, y: number): { svg: Markup[]; lines: number } {
  const { tubes, pools, palette, fontSize } = props;
  const poolOf = tubes.map((t) => t.pool);
  let lines = 0;
  const svg = bracketRuns(poolOf, 0, tubes.length).flatMap((run) => {
    const pool = pools.find((p) => p.id === run.pool);
    if (!pool) return [];
    const x0 = left + run.start * step + step * 0.08;
    const x1 = left + run.end * step - step * 0.08;
    const label = bracketLabel(pool, x1 - x0 + step * 0.1, fontSize * 0.9, 2);
    lines = Math.max(lines, label.length);
    return [raw(bracketSvg({ ...run, pool, x0, x1, y, palette, label, fontSize: fontSize * 0.9 }))];
  });
  return { svg, lines };
}
