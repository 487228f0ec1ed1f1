import { markup } from "../markup.ts";
import { intervalInWords, numberRanges } from "../words.ts";
import { pageHead, pageHtml } from "./page.ts";
import { massWords, type WriteUpInput, writeUpText } from "./writeUpText.ts";

/** Characters that Markdown would take for its own. */
function plain(text: string): string {
  return text.replace(/[\\`*_{}[\]<>#|~]/g, (c) => `\\${c}`).replace(/\r?\n/g, " ");
}

const HEADER = ["Pool", "Holds", "Tubes", "Volume", "Mass", "Of the load", "Main component, 90 %"] as const;

function tableRows(input: WriteUpInput): string[][] {
  return input.result.pools.map((pool) => {
    const weighed = input.recovery?.pools.find((p) => p.pool === pool.id);
    const log = input.log;
    const volume = log ? pool.fractions.reduce((sum, n) => sum + (log.tubes[n - 1]?.volumeMl ?? 0), 0) : pool.volume_ml;
    return [
      pool.id,
      pool.kind === "empty" ? "empty" : `${pool.components.join(" + ")}, ${pool.kind}`,
      numberRanges(pool.fractions),
      volume === null ? "–" : `${Number(volume.toFixed(0))} mL`,
      weighed?.massMg == null ? "–" : massWords(weighed.massMg),
      weighed?.recoveryPercent == null ? "–" : `${weighed.recoveryPercent.toFixed(0)} %`,
      pool.kind === "empty" ? "–" : intervalInWords(pool.purity),
    ];
  });
}

/** The write-up as Markdown: one paragraph and one table. */
export function writeUpMarkdown(input: WriteUpInput): string {
  const { title, paragraphs } = writeUpText(input);
  const row = (cells: readonly string[]) => `| ${cells.map(plain).join(" | ")} |`;
  const table = [row(HEADER), `|${HEADER.map(() => " --- ").join("|")}|`, ...tableRows(input).map(row)];
  return `# ${plain(title)}\n\n${paragraphs.map(plain).join(" ")}\n\n${table.join("\n")}\n`;
}

/** The same as a page; the paragraph stands in an element of its own, ready to be copied into a notebook. */
export function writeUpHtml(input: WriteUpInput): string {
  const { title, paragraphs } = writeUpText(input);
  const head = markup`<tr>${HEADER.map((h) => markup`<th scope="col">${h}</th>`)}</tr>`;
  const rows = tableRows(input).map(
    ([id, ...cells]) =>
      markup`<tr><th scope="row">${id}</th>${cells.map((c, i) => markup`<td class="n" data-label="${HEADER[i + 1].toLowerCase()}">${c}</td>`)}</tr>`,
  );
  const body = markup`${pageHead(title, ["for the notebook"])}<section><p class="paragraph">${paragraphs.join(" ")}</p></section><section><table class="stack"><thead>${head}</thead><tbody>${rows}</tbody></table></section>`;
  return pageHtml(title, ".paragraph{max-width:46rem;text-wrap:pretty}", body);
}
