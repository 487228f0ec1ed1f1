import type { BenchSheet, RackLayout, SheetPool } from "../../model/index.ts";
import { toneMarks } from "../drawing/marks.ts";
import { type Palette, toneOf } from "../drawing/palette.ts";
import { type Markup, markup } from "../markup.ts";

export interface SheetRackProps {
  readonly sheet: BenchSheet;
  readonly palette: Palette;
  readonly width: number;
  /** Highest that all racks together may be. */
  readonly maxHeight: number;
  /** Number of the tube at a place, as the rack is filled; beyond the last tube the place stays empty. */
  readonly tubeAt: (rack: RackLayout, place: { rack: number; row: number; column: number }) => number | null;
}

/** What stands on tubes and flasks: a pool's bare number would be taken for a tube's. */
export function poolMark(id: string): string {
  return /^\d/.test(id) ? `P${id}` : id;
}

/** The racks from above as they stand on the bench: each tube with its number and the letter of its pool, pools by tone. */
export function sheetRackSvg({ sheet, palette, width, maxHeight, tubeAt }: SheetRackProps): string {
  const { rack, racks } = sheet;
  const gap = 10;
  const pitchOf = (n: number) => {
    const rows = Math.ceil(racks / n);
    return Math.min(
      (width - gap * (n - 1)) / (n * rack.columns),
      (maxHeight - gap * (rows - 1)) / (rows * rack.rows),
      62,
    );
  };
  const across = Array.from({ length: racks }, (_, i) => i + 1).reduce((a, b) => (pitchOf(b) > pitchOf(a) ? b : a));
  const down = Math.ceil(racks / across);
  const pitch = pitchOf(across);
  const w = rack.columns * pitch;
  const h = rack.rows * pitch;
  const frames = Array.from({ length: racks }, (_, r) => {
    const x0 = (r % across) * (w + gap);
    const y0 = Math.floor(r / across) * (h + gap);
    const places = Array.from({ length: rack.rows * rack.columns }, (_, i) => {
      const row = Math.floor(i / rack.columns);
      const column = i % rack.columns;
      const number = tubeAt(rack, { rack: r, row, column });
      return place(sheet, palette, number, x0 + (column + 0.5) * pitch, y0 + (row + 0.5) * pitch, pitch);
    });
    return markup`<rect x="${x0 + 0.5}" y="${y0 + 0.5}" width="${w - 1}" height="${h - 1}" rx="${pitch * 0.16}" class="d-rack"/>${places}`;
  });
  const total = down * h + (down - 1) * gap;
  const all = across * w + (across - 1) * gap;
  return markup`<svg class="drawing rack" style="max-width:${Math.round(all)}px" viewBox="0 0 ${all} ${total}" role="img" aria-label="The rack from above, each tube with its number and pool">${frames}</svg>`
    .text;
}

function place(
  sheet: BenchSheet,
  palette: Palette,
  number: number | null,
  cx: number,
  cy: number,
  pitch: number,
): Markup {
  const r = pitch * 0.44;
  if (number === null || number > sheet.tubeCount)
    return markup`<circle cx="${cx}" cy="${cy}" r="${r * 0.8}" class="s-none"/>`;
  const pool = sheet.pools.find((p) => p.tubes.includes(number)) ?? null;
  const words = `Tube ${number}${pool ? `, pool ${pool.id}` : ", in no pool"}`;
  return markup`<g><title>${words}</title>${glass(pool, palette, cx, cy, r)}<circle cx="${cx}" cy="${cy}" r="${r * 0.66}" class="d-hub"/><text x="${cx}" y="${cy + (pool ? -r * 0.02 : r * 0.2)}" font-size="${r * 0.58}" class="d-strong" text-anchor="middle">${String(number)}</text>${pool && markup`<text x="${cx}" y="${cy + r * 0.46}" font-size="${r * 0.46}" class="${pool.kind === "empty" ? "d-soft" : "d-text"}" text-anchor="middle">${poolMark(pool.id)}</text>`}</g>`;
}

function glass(pool: SheetPool | null, palette: Palette, cx: number, cy: number, r: number): Markup {
  if (pool === null || pool.kind === "empty") return markup`<circle cx="${cx}" cy="${cy}" r="${r}" class="s-blank"/>`;
  const tone = toneOf(palette, pool.id);
  const ring = Array.from({ length: 48 }, (_, i) => {
    const a = (2 * Math.PI * i) / 48;
    return [cx + r * Math.sin(a), cy - r * Math.cos(a)] as const;
  });
  return markup`<circle cx="${cx}" cy="${cy}" r="${r}" fill="${tone.colour}" class="${pool.kind === "mixed" ? "s-mixed" : "d-rim"}"/>${toneMarks(tone, ring, r / 4)}`;
}

export const SHEET_RACK_CSS = `
.s-none{fill:none;stroke:var(--line);stroke-dasharray:2 2}
.s-blank{fill:var(--paper);stroke:var(--edge)}
.s-mixed{stroke:var(--ink);stroke-width:1.6;stroke-dasharray:3 2}
`;
