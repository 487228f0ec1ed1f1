import { type Markup, markup } from "../markup.ts";
import { type Context, section } from "./context.ts";

/** Warnings of the reading, and photos that could not be read. */
export function doubtsSection({ result }: Context): Markup {
  const rejected = result.photos
    .filter((p) => p.status === "rejected")
    .map((p) => markup`<li><b class="file">${p.file}</b> was not read: ${p.reason ?? "no reason given"}</li>`);
  const warnings = result.warnings.map(
    (w) =>
      markup`<li>${w.photo && markup`<b class="file">${w.photo}</b> `}${w.fraction !== null && markup`<b>Tube ${w.fraction}</b> `}${w.message}</li>`,
  );
  const body =
    rejected.length + warnings.length > 0
      ? markup`<ul class="doubts">${rejected}${warnings}</ul>`
      : markup`<p>None beyond the tubes marked above.</p>`;
  return section("doubts", "Doubts and warnings", null, body);
}
