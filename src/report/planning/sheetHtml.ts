import type { BenchSheet, RackLayout, SheetPool } from "../../model/index.ts";
import { toneChip } from "../drawing/marks.ts";
import { type Palette, paletteOf, toneOf } from "../drawing/palette.ts";
import { type Markup, markup, raw } from "../markup.ts";
import { componentsInWords, numberRanges, percent, tubesInWords } from "../words.ts";
import { pageHtml } from "./page.ts";
import { poolMark, SHEET_RACK_CSS, type SheetRackProps, sheetRackSvg } from "./sheetRack.ts";

/** The bench sheet as a page that prints on one side of A4. `tubeAt`: how the rack is numbered (planning/rack). */
export function sheetHtml(sheet: BenchSheet, tubeAt: SheetRackProps["tubeAt"]): string {
  const title = sheet.run ? `Bench sheet: ${sheet.run}` : "Bench sheet";
  const dense = sheet.pools.length > 7 || sheet.tubeCount > 60;
  return pageHtml(
    title,
    SHEET_CSS + SHEET_RACK_CSS,
    markup`<div class="sheet${dense && " dense"}">${sheetBody(sheet, tubeAt)}</div>`,
  );
}

/** The sheet without a page around it, for the review page. Needs `SHEET_CSS` and the report's style. */
export function sheetBody(sheet: BenchSheet, tubeAt: SheetRackProps["tubeAt"]): Markup {
  const palette = paletteOf(sheet.pools.filter((p) => p.kind !== "empty").map((p) => p.id));
  const picture = sheetRackSvg({ sheet, palette, width: 690, maxHeight: sheet.pools.length > 9 ? 235 : 290, tubeAt });
  return markup`<header class="s-head"><h1>${sheet.run ? `Bench sheet: ${sheet.run}` : "Bench sheet"}</h1><p>Date <span class="s-line"></span> Name <span class="s-line"></span></p></header><figure>${raw(picture)}<figcaption>${rackWords(sheet)}</figcaption></figure>${poolTable(sheet.pools, palette)}${lists(sheet)}`;
}

const FILLS: Readonly<Record<RackLayout["fill"], string>> = {
  rows: "row by row",
  serpentine: "row by row, to and fro",
  columns: "column by column",
  "columns-serpentine": "column by column, to and fro",
};

function rackWords(sheet: BenchSheet): string {
  const { rack } = sheet;
  const many = sheet.racks > 1 ? `${sheet.racks} racks` : "Rack";
  const assumed = sheet.rackAssumed ? " (assumed: say rack: in run.yaml)" : "";
  return `${many} of ${rack.rows} × ${rack.columns} from above, filled ${FILLS[rack.fill]} from the ${rack.start.replace("-", " ")}${assumed}. Dashed ring: mixed. White: empty.`;
}

const box = (words: string) => markup`<span class="s-tick"><span class="s-box"></span>${words}</span> `;

function flaskWords(pool: SheetPool): string {
  const { flask } = pool;
  if (!flask) return "–";
  return flask.portions === 1
    ? `${flask.flaskMl} mL`
    : `${flask.flaskMl} mL, ${flask.portions} × ${Number(flask.portionMl.toFixed(0))} mL`;
}

function row(pool: SheetPool, palette: Palette): Markup {
  const held = pool.kind === "empty" ? "empty" : `${componentsInWords(pool.components)}, ${pool.kind}`;
  const chip = pool.kind === "empty" ? null : raw(toneChip(toneOf(palette, pool.id)));
  const sure =
    pool.confidence === null || pool.kind === "empty" ? null : markup` <small>${percent(pool.confidence)} sure</small>`;
  const todo =
    pool.kind === "empty"
      ? markup`${box("kept until the spectra are in")}`
      : markup`${box("fritted funnel")}${box(pool.flask && pool.flask.portions > 1 ? `evaporated, ${pool.flask.portions} portions` : "evaporated")}${box(pool.kind === "mixed" ? "run again" : "spectra")}`;
  const weigh =
    pool.kind === "empty" ? null : markup`tare <span class="s-line"></span> g<br/>gross <span class="s-line"></span> g`;
  return markup`<tr><th scope="row">${chip}${poolMark(pool.id)}</th><td>${held}${sure}</td><td>${numberRanges(pool.tubes)}</td><td class="n">${String(Number(pool.volumeMl.toFixed(0)))} mL${pool.volumeAssumed && "?"}</td><td>${flaskWords(pool)}</td><td>${todo}</td><td class="n">${weigh}</td></tr>`;
}

function poolTable(pools: readonly SheetPool[], palette: Palette): Markup {
  return markup`<table class="s-pools"><thead><tr><th scope="col">Pool</th><th scope="col">Holds</th><th scope="col">Tubes</th><th scope="col">Volume</th><th scope="col">Flask, at most half full</th><th scope="col">Done</th><th scope="col">Balance</th></tr></thead><tbody>${pools.map((p) => row(p, palette))}</tbody></table><p class="s-fines">Every pool goes through a fritted funnel first: fines come through even when nobody sees them.</p>`;
}

function list(title: string, items: readonly string[], ticked: boolean): Markup | null {
  if (items.length === 0) return null;
  const mark = ticked && raw('<span class="s-box"></span>');
  return markup`<h2>${title}</h2><ul class="${ticked && "s-ticks"}">${items.map((item) => markup`<li>${mark}${item}</li>`)}</ul>`;
}

function lists(sheet: BenchSheet): Markup {
  const questions = sheet.findings.map((f) => `${f.message} ${f.remedy}`);
  const poolless = Array.from({ length: sheet.tubeCount }, (_, i) => i + 1).filter(
    (n) => !sheet.pools.some((p) => p.tubes.includes(n)),
  );
  const notes = [
    ...sheet.notes,
    ...(poolless.length > 0 ? [`In no pool: ${tubesInWords(poolless)}.`] : []),
    ...questions,
  ];
  return markup`<div class="s-lists">${list("Again", sheet.runAgain, true)}${list("Notes", notes, false)}${list("Keep", sheet.keep, false)}${list("Cautions", sheet.cautions, false)}</div>`;
}

export const SHEET_CSS = `
.sheet{max-width:190mm;margin:0 auto;font-size:9.6pt;line-height:1.36}
.sheet h1{font-size:14pt}
.sheet h2{font-size:10pt;margin:0 0 .15rem}
.s-head{display:flex;justify-content:space-between;align-items:baseline;gap:1rem;margin-bottom:2.5mm}
.s-head p{margin:0;color:var(--soft);white-space:nowrap}
.s-line{display:inline-block;min-width:6.2em;border-bottom:1px solid var(--edge);height:1em}
.sheet .rack{margin:0 auto}
.sheet figcaption{font-size:8pt;margin-top:1mm;text-align:center}
.s-pools{font-size:9pt;margin-top:2.5mm}
.s-pools thead th{font-size:8pt;line-height:1.2;vertical-align:bottom}
.s-tick{white-space:nowrap;margin-right:1.5mm}
.s-pools th,.s-pools td{padding:1.1mm 2.2mm 1.1mm 0;vertical-align:top}
.s-pools td:nth-child(3){min-width:15mm;max-width:28mm}
.s-pools td:nth-child(5){width:23mm}
.s-pools small{color:var(--soft);white-space:nowrap}
.s-box{display:inline-block;width:2.9mm;height:2.9mm;border:1px solid var(--ink);border-radius:.5mm;margin-right:1.2mm;vertical-align:-.3mm}
.s-fines{margin:1.5mm 0 2.5mm;font-weight:600}
.s-lists{columns:2;column-gap:7mm;font-size:8.6pt}
.s-lists h2{break-after:avoid}
.s-lists ul{margin:0 0 2mm;padding-left:4mm}
.s-ticks{list-style:none;padding-left:0!important}
.s-lists li{margin:.4mm 0;break-inside:avoid}
.dense{font-size:8.8pt}
.dense .s-pools{font-size:8pt;line-height:1.25}
.dense .s-pools th,.dense .s-pools td{padding:.5mm 2mm .5mm 0}
.dense .s-lists{font-size:7.6pt;line-height:1.28}
@media screen and (max-width:560px){.s-lists{columns:1}}
@page{size:A4;margin:10mm}
@media print{main{padding:0}.sheet{max-width:none}}
`;
