import type { ResultFraction } from "../../model/index.ts";
import { GUTTER, type LightRow, laneRowSvg } from "../drawing/laneRow.ts";
import { lightRows } from "../drawing/lights.ts";
import { type LaneSlot, referenceSlots, slotRows, slotWeight, tubeSlots } from "../drawing/slots.ts";
import type { StraightenedPlate } from "../input.ts";
import { type Markup, markup, raw } from "../markup.ts";
import { plateImage } from "../pictures.ts";
import { numberRanges } from "../words.ts";
import { type Context, section, WIDTHS, type WidthName } from "./context.ts";

const LAYOUT: Readonly<Record<WidthName, { most: number; fontSize: number; stripHeight: number; widest: number }>> = {
  wide: { most: 26, fontSize: 10.5, stripHeight: 230, widest: 54 },
  mid: { most: 15, fontSize: 10.5, stripHeight: 158, widest: 46 },
  slim: { most: 6, fontSize: 10.5, stripHeight: 190, widest: 44 },
};

/** Each straightened plate once, to be used by every strip that is cut from it. */
export function plateDefs(straightened: readonly StraightenedPlate[]): Markup {
  const images = straightened.map((s, i) => plateImage(s, `plate-${i}`));
  return markup`<svg class="defs" width="0" height="0" aria-hidden="true" focusable="false"><defs>${images}</defs></svg>`;
}

/** All lanes of all plates side by side in elution order. */
export function lanesSection(context: Context): Markup {
  const { result } = context;
  const references = referenceSlots(result);
  const slots = tubeSlots(result);
  if (![...references, ...slots].some((s) => s.lane)) return markup``;
  const lights = lightRows(context.straightened.map((s, i) => ({ ...s, href: `#plate-${i}` })));
  const names = Object.keys(WIDTHS) as WidthName[];
  const body = markup`${names.map((name) => markup`<div class="fit-${name}">${rows(context, name, references, slots, lights)}</div>`)}`;
  return section(
    "lanes",
    "Every lane, in elution order",
    "Cut from the photos and straightened: origin at Rf 0, the front of each lane at Rf 1. Letters mark the spots; faint ones show under another light only, small hollow ones belong to no component. Compare neighbours across a bracket’s end.",
    body,
  );
}

function rows(
  context: Context,
  name: WidthName,
  references: readonly LaneSlot[],
  slots: readonly LaneSlot[],
  lights: readonly LightRow[],
): Markup[] {
  const { result, palette, division } = context;
  const { most, fontSize, stripHeight, widest } = LAYOUT[name];
  const refsAlone = references.length > most / 3;
  const cut = slotRows(slots, refsAlone ? most : most - references.length);
  const lines = refsAlone
    ? [...slotRows(references, most).map((r) => [r, []]), ...cut.map((r) => [[], r])]
    : cut.map((r) => [references, r]);
  const gutter =
    (GUTTER.left + GUTTER.right + (refsAlone || references.length === 0 ? 0 : GUTTER.references)) * fontSize;
  const weights = lines.map(([refs, tubes]) => [...refs, ...tubes].reduce((sum, s) => sum + slotWeight(s), 0));
  const slotWidth = Math.min(widest, (WIDTHS[name] - gutter) / Math.max(...weights, 1));
  let at = 0;
  return lines.map(([refs, tubes]) => {
    const before = slots[at - 1]?.fraction?.pool ?? null;
    if (tubes.length > 0) at += tubes.length;
    const after = tubes.length > 0 ? (slots[at]?.fraction?.pool ?? null) : null;
    const numbers = tubes.flatMap((s) => (s.fraction ? [s.fraction.number] : []));
    const svg = laneRowSvg({
      references: refs,
      slots: tubes,
      poolBefore: before,
      poolAfter: after,
      lights,
      components: result.components,
      pools: result.pools,
      ...(division && { elsewhere: division.elsewhere }),
      palette,
      width: WIDTHS[name],
      slotWidth,
      stripHeight,
      fontSize,
      label: altText(refs, numbers, result.fractions),
    });
    return markup`<figure class="strips">${raw(svg)}</figure>`;
  });
}

function altText(refs: readonly LaneSlot[], numbers: readonly number[], fractions: readonly ResultFraction[]): string {
  const seen = fractions.filter((f) => numbers.includes(f.number) && f.seen).length;
  const parts = [
    refs.length > 0 && `reference lanes ${refs.map((r) => r.label).join(", ")}`,
    numbers.length > 0 && `tubes ${numberRanges(numbers)}, ${seen} of them spotted`,
  ].filter(Boolean);
  return `Straightened lanes side by side on one Rf scale: ${parts.join("; ")}. The table of tubes says the same in figures.`;
}
