import type { Result, ResultFraction, ResultPool } from "../../model/index.ts";
import type { Division } from "../division.ts";
import { toneChip } from "../drawing/marks.ts";
import { toneOf } from "../drawing/palette.ts";
import { rackSvgs } from "../drawing/rack.ts";
import { isDoubtful } from "../drawing/tube.ts";
import { type Markup, markup, raw } from "../markup.ts";
import { componentsInWords, count, listed, numberRanges, rfInWords, tubesInWords } from "../words.ts";
import { type Context, fitted } from "./context.ts";

/** The rack with its brackets, one sentence that says it all, and the key. */
export function poolingMap({ result, palette, division }: Context): Markup {
  const sentence = summary(result, acceptedTubes(division));
  const layout = {
    wide: { perRow: 12, fontSize: 13 },
    mid: { perRow: 10, fontSize: 12 },
    slim: { perRow: 5, fontSize: 11.5 },
  };
  const rack =
    result.fractions.length > 0 &&
    fitted((width, name) =>
      rackSvgs({
        tubes: result.fractions,
        pools: result.pools,
        ...(division && { suggested: division }),
        palette,
        width,
        ...layout[name],
      }).join(""),
    );
  return markup`<section id="map" aria-label="Pooling map">${division && markup`<p class="decided">${divisionInWords(division)}</p>`}${rack}<p class="summary">${sentence}</p>${
    result.pools.some((p) => p.kind === "clean") &&
    markup`<p class="proof">Clean means that one spot is all these plates show. One spot is never proof of purity: confirm by NMR, HPLC or another method before you rely on it.</p>`
  }${key(result, palette)}</section>`;
}

/** Who made the pools, which of them were accepted, and how they differ from the suggestion. */
export function divisionInWords({ pools, elsewhere, otherwise, undecided }: Division): string {
  const yes = pools.filter((p) => p.accepted).length;
  const all = yes === pools.length;
  const since = undecided.length > 0 ? `; ${tubesInWords(undecided)} came since, as suggested` : "";
  if (otherwise.length === 0) {
    const which = all
      ? yes === 1
        ? "The pool is"
        : `All ${yes} pools are`
      : `${yes} of ${count(pools.length, "pool")} accepted`;
    return `${which}${all ? " accepted" : ""}, as suggested${since}.`;
  }
  const accepted = all ? "all accepted" : `${yes === 0 ? "none" : yes} accepted`;
  const moved = [...elsewhere.keys()];
  const differs =
    moved.length === 0
      ? "not quite as suggested"
      : `${tubesInWords(moved)} ${moved.length === 1 ? "stands" : "stand"} elsewhere than suggested`;
  return `Divided by hand: ${count(pools.length, "pool")}, ${accepted}; ${differs}${since}.`;
}

/** Tubes in pools that somebody said yes to: their doubts are settled. */
function acceptedTubes(division: Division | null): ReadonlySet<number> {
  return new Set(division?.pools.filter((p) => p.accepted).flatMap((p) => p.fractions) ?? []);
}

/**
 * What to combine, what to keep apart, what is empty, and which tubes are doubtful, in one sentence.
 * @param settled tubes whose doubts are settled
 */
export function summary(result: Result, settled: ReadonlySet<number> = new Set()): string {
  const of = (kind: ResultPool["kind"]) => result.pools.filter((p) => p.kind === kind && p.fractions.length > 0);
  const named = (p: ResultPool) =>
    `${numberRanges(p.fractions)}${p.components.length > 0 ? ` (${componentsInWords(p.components)})` : ""}`;
  const clean = of("clean").filter((p) => p.fractions.length > 1);
  const alone = of("clean").filter((p) => p.fractions.length === 1);
  const mixed = of("mixed");
  const empty = of("empty").flatMap((p) => p.fractions);
  const doubtful = result.fractions.filter((f) => isDoubtful(f) && !settled.has(f.number));
  const clauses = [
    clean.length > 0 && `combine tubes ${listed(clean.map(named))}`,
    alone.length > 0 &&
      `keep ${alone.length === 1 ? "tube" : "tubes"} ${listed(alone.map(named))} ${alone.length === 1 ? "by itself" : "each by itself"}`,
    mixed.length > 0 && `keep ${listed(mixed.map(named))} apart as mixed`,
    empty.length > 0 && `${tubesInWords(empty)} ${empty.length === 1 ? "looks" : "look"} empty`,
    doubtful.length > 0 && lookAgain(doubtful),
  ].filter((c) => c !== false);
  if (clauses.length === 0) return result.plates.length > 0 ? "No tube could be judged." : "No plate could be read.";
  const text = clauses.join("; ");
  return `${text[0].toUpperCase()}${text.slice(1)}.`;
}

/** The doubtful tubes, or where they are many the least sure of them. */
function lookAgain(doubtful: readonly ResultFraction[]): string {
  if (doubtful.length <= 8) return `look again at ${tubesInWords(doubtful.map((f) => f.number))}`;
  const least = [...doubtful].sort((a, b) => a.confidence - b.confidence || a.number - b.number).slice(0, 4);
  return `${doubtful.length} tubes are doubtful, ${numberRanges(least.map((f) => f.number))} most of all`;
}

function key(result: Result, palette: Context["palette"]): Markup {
  const components = result.components.map((c) => {
    const tubes =
      c.first === null || c.last === null
        ? "in reference lanes only"
        : c.first === c.last
          ? `tube ${c.first}`
          : `tubes ${c.first}–${c.last}`;
    return markup`<li>${raw(toneChip(toneOf(palette, c.id)))}<b>${c.id}</b> Rf ${rfInWords(c.rf)}, ${tubes}</li>`;
  });
  const doubtful = result.fractions.filter(isDoubtful).length;
  const unseen = result.fractions.filter((f) => !f.seen).length;
  return markup`<ul class="key">${components}${
    unseen > 0 &&
    markup`<li><span class="ring" aria-hidden="true"></span>dashed: not spotted, inferred (${count(unseen, "tube")})</li>`
  }${doubtful > 0 && markup`<li><span class="badge" aria-hidden="true">?</span>doubtful (${count(doubtful, "tube")})</li>`}</ul>`;
}
