import { type Markup, markup } from "../markup.ts";
import { type Context, section } from "./context.ts";

/** Where the reading contradicts a decision, its warnings, and photos that could not be read. */
export function doubtsSection({ result }: Context): Markup {
  const rejected = result.photos
    .filter((p) => p.status === "rejected")
    .map((p) => markup`<li><b class="file">${p.file}</b> was not read: ${p.reason ?? "no reason given"}</li>`);
  const warnings = result.warnings.map(
    (w) =>
      markup`<li>${w.photo && markup`<b class="file">${w.photo}</b> `}${w.fraction !== null && markup`<b>Tube ${w.fraction}</b> `}${w.message}</li>`,
  );
  const against = (result.decisions?.contradictions ?? []).map(
    (c) => markup`<li><b>Against a decision:</b> ${c.message} ${c.remedy}</li>`,
  );
  const body =
    against.length + rejected.length + warnings.length > 0
      ? markup`<ul class="doubts">${against}${rejected}${warnings}</ul>`
      : markup`<p>None beyond the tubes marked above.</p>`;
  return section("doubts", "Doubts and warnings", null, body);
}
