import type { Interval, PolicyOutcome, ResultFraction } from "../../model/index.ts";
import { markup } from "../markup.ts";
import { tonedRect } from "./marks.ts";
import { MIXED_TONE, type Palette, toneOf } from "./palette.ts";

export interface PolicyStripProps {
  readonly outcome: PolicyOutcome;
  readonly tubes: readonly ResultFraction[];
  readonly palette: Palette;
  readonly width: number;
  readonly label: string;
}

/** The pools of one policy as bars over the row of tubes: clean ones in their component's tone, mixed ones low and hatched. */
export function policyStripSvg({ outcome, tubes, palette, width, label }: PolicyStripProps): string {
  const step = width / Math.max(1, tubes.length);
  const at = new Map(tubes.map((t, i) => [t.number, i]));
  const bars = outcome.pools.flatMap((pool) => {
    const places = pool.fractions.flatMap((n) => at.get(n) ?? []).sort((a, b) => a - b);
    if (places.length === 0 || pool.kind === "empty") return [];
    const x = places[0] * step + 0.5;
    const w = (places[places.length - 1] - places[0] + 1) * step - 1;
    if (pool.kind === "mixed") return [tonedRect(MIXED_TONE, x, 8, w, 6, 4)];
    const tone = toneOf(palette, mainComponent(tubes, pool.fractions));
    return [tonedRect(tone, x, 1, w, 13)];
  });
  return markup`<svg class="drawing" viewBox="0 0 ${width} 17" style="max-width:${width}px" role="img" aria-label="${label}"><path d="M0 15.5H${width}" class="d-axis"/>${bars}</svg>`
    .text;
}

/** The component that the tubes hold most of, each tube counting alike. */
function mainComponent(tubes: readonly ResultFraction[], numbers: readonly number[]): string | null {
  const sums = new Map<string, number>();
  for (const tube of tubes.filter((t) => numbers.includes(t.number))) {
    for (const [c, share] of Object.entries(tube.composition)) sums.set(c, (sums.get(c) ?? 0) + share);
  }
  const ranked = [...sums].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1));
  return ranked[0]?.[0] ?? null;
}

/** A 90 % interval on a scale from nothing to all: a line with its middle as a dot. Says no more than the text beside it. */
export function intervalSvg(interval: Interval, width = 110): string {
  const x = (share: number) => 3 + Math.min(1, Math.max(0, share)) * (width - 6);
  return markup`<svg class="drawing" viewBox="0 0 ${width} 9" style="max-width:${width}px" aria-hidden="true" focusable="false"><path d="M3 4.5H${width - 3}" class="d-base"/><path d="M${x(interval.low)} 4.5H${x(interval.high)}" class="d-whisker"/><circle cx="${x(interval.mid)}" cy="4.5" r="3" class="d-mid"/></svg>`
    .text;
}
