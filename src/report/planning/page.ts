import type { Finding } from "../../model/index.ts";
import { documentHtml } from "../document.ts";
import { type Markup, markup } from "../markup.ts";

/** A page in the report's style. `css` comes after the report's own. */
export function pageHtml(title: string, css: string, body: Markup): string {
  return documentHtml(title, css, markup`<main>${body}</main>`);
}

/** Title and one line of facts. */
export function pageHead(title: string, facts: readonly string[]): Markup {
  return markup`<header class="top"><h1>${title}</h1><p>${facts.join(" · ")}</p></header>`;
}

/** Doubts, each with what to do about it; nothing where there are none. */
export function findingList(findings: readonly Finding[], title = "Watch out"): Markup | null {
  if (findings.length === 0) return null;
  const items = findings.map((f) => markup`<li><b>${f.message}</b> ${f.remedy}</li>`);
  return markup`<section><h2>${title}</h2><ul class="doubts">${items}</ul></section>`;
}

/** Figures side by side, each with its name. */
export function figures(items: readonly (readonly [name: string, value: string, note?: string])[]): Markup {
  return markup`<dl class="figures">${items.map(
    ([name, value, note]) =>
      markup`<div><dt>${name}</dt><dd>${value}${note && markup` <small>${note}</small>`}</dd></div>`,
  )}</dl>`;
}

export const FIGURES_CSS = `
.figures{display:grid;grid-template-columns:repeat(auto-fill,minmax(14rem,1fr));gap:.7rem 1.4rem;margin:.8rem 0 0}
.figures dt{color:var(--soft);font-size:.8125rem}
.figures dd{margin:0;font-weight:650;font-variant-numeric:tabular-nums}
.figures small{font-weight:400;color:var(--soft);font-size:.8125rem}
.best th,.best td{background:var(--card)}
.rank{display:inline-block;min-width:1.5em;text-align:center;font-weight:650}
.eluent{min-width:17rem}
.eluent small{display:block;color:var(--soft)}
th small{font-weight:400;color:var(--soft)}
td .chip,th .chip{margin-right:.25em}
.lead{font-size:1.12rem;line-height:1.45;max-width:54rem;margin:.8rem 0 .6rem;text-wrap:pretty}
@media print{.figures{grid-template-columns:repeat(4,1fr)}}
`;
