import { divisionOf } from "./division.ts";
import { documentHtml } from "./document.ts";
import { paletteOf } from "./drawing/palette.ts";
import type { ReportInput } from "./input.ts";
import { type Markup, markup } from "./markup.ts";
import { amountsSection } from "./sections/amounts.ts";
import { cautionsSection } from "./sections/cautions.ts";
import type { Context } from "./sections/context.ts";
import { doubtsSection } from "./sections/doubts.ts";
import { lanesSection, plateDefs } from "./sections/lanes.ts";
import { photosSection } from "./sections/photos.ts";
import { poolingMap } from "./sections/poolingMap.ts";
import { adviceSection, policiesSection, poolsSection, tubesSection } from "./sections/tables.ts";
import { count } from "./words.ts";

/**
 * The report as one HTML file that opens anywhere without a network: no scripts, style inline, pictures as data URIs.
 * The same input gives the same text, byte for byte.
 */
export function reportHtml(input: ReportInput): string {
  const context: Context = {
    ...input,
    palette: paletteOf(input.result.components.map((c) => c.id)),
    division: input.suggested ? divisionOf(input.suggested) : null,
  };
  const title = input.result.run ? `Pooling map: ${input.result.run}` : "Pooling map";
  const parts: Part[] = [
    { id: "lanes", name: "Lanes", body: lanesSection(context) },
    { id: "amounts", name: "Amounts", body: amountsSection(context) },
    { id: "photos", name: "Photos", body: photosSection(context) },
    { id: "tubes", name: "Tubes", body: tubesSection(context) },
    { id: "pools", name: "Pools", body: poolsSection(context) },
    { id: "trade", name: "Purity against recovery", body: policiesSection(context) },
    { id: "next", name: "What to do next", body: adviceSection(context) },
    { id: "doubts", name: "Doubts", body: doubtsSection(context) },
    { id: "cautions", name: "Cautions", body: cautionsSection() },
  ].filter((part) => part.body.text !== "");
  const body = markup`${plateDefs(input.straightened)}<main>${heading(context, title, parts)}${poolingMap(context)}${parts.map((p) => p.body)}${footer(context)}</main>`;
  return documentHtml(title, "", body);
}

interface Part {
  readonly id: string;
  readonly name: string;
  readonly body: Markup;
}

function heading({ result, notes }: Context, title: string, parts: readonly Part[]): Markup {
  const lanes = result.plates.reduce((sum, p) => sum + p.lanes.length, 0);
  const read = result.photos.filter((p) => p.status === "read").length;
  const rejected = result.photos.length - read;
  const facts = [
    count(result.fractions.length, "tube"),
    count(result.plates.length, "plate"),
    count(lanes, "lane"),
    `${count(read, "photo")} read${rejected > 0 ? `, ${rejected} not` : ""}`,
    notes.readOn,
  ].filter(Boolean);
  return markup`<header class="top"><h1>${title}</h1><p>${facts.join(" · ")}${notes.demo && markup` · <span class="demo">Demo: invented plates and figures</span>`}</p><nav aria-label="Parts of this report">${parts.map((p) => markup`<a href="#${p.id}">${p.name}</a> `)}</nav></header>`;
}

function footer({ notes, division }: Context): Markup {
  const program = `platepool${notes.version ? ` ${notes.version}` : ""}`;
  if (division)
    return markup`<footer>Pools as they were divided by hand; what they hold, and what is suggested instead, by ${program} from photos of the plates. Compare it with the plates before you combine anything.</footer>`;
  return markup`<footer>Suggested by ${program} from photos of the plates. A suggestion, not a decision: compare it with the plates before you combine anything.</footer>`;
}
