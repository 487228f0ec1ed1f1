import type { PolicyOutcome, ResultPool } from "../../model/index.ts";
import { asSuggested, type Division } from "../division.ts";
import { toneChip } from "../drawing/marks.ts";
import { toneOf } from "../drawing/palette.ts";
import { intervalSvg, policyStripSvg } from "../drawing/policy.ts";
import { isDoubtful, sharesOf } from "../drawing/tube.ts";
import { type Markup, markup, raw } from "../markup.ts";
import {
  componentsInWords,
  intervalInWords,
  numberRanges,
  percent,
  policyInWords,
  stateInWords,
  tubesInWords,
  volumeInWords,
} from "../words.ts";
import { type Context, section } from "./context.ts";

/** Pools with purity interval and reason. */
export function poolsSection({ result, palette, division }: Context): Markup {
  if (result.pools.length === 0) return markup``;
  const rows = result.pools.map((p) => {
    const as = division && takenAs(division, p);
    return markup`<tr><th scope="row" data-label="Pool">${p.id}${as?.accepted && markup` <span class="tag">accepted</span>`}</th><td data-label="Tubes">${numberRanges(p.fractions) || "–"}</td><td data-label="Holds">${p.components.map(
      (c) => markup`<span class="nowrap">${raw(toneChip(toneOf(palette, c)))}${c}</span> `,
    )}${p.kind}</td><td data-label="Volume" class="n">${volumeInWords(p.volume_ml) || "–"}</td><td data-label="Purity" class="n">${
      p.kind === "empty" ? "–" : markup`${intervalInWords(p.purity)}${raw(intervalSvg(p.purity))}`
    }</td><td data-label="Sure" class="n">${percent(p.confidence)}</td>${as && markup`<td data-label="Suggested">${as.words}</td>`}<td data-label="Why" class="why">${as?.reason ?? p.reason}</td></tr>`;
  });
  const gone = division?.otherwise.filter((s) => ![...division.origin.values()].includes(s)) ?? [];
  return section(
    "pools",
    "Pools",
    `${division ? "As they were divided by hand; Suggested says what the plates alone would have. " : ""}Purity is the share of the main component in all that the plates show, with a 90 % interval. What no plate shows is not in it.`,
    markup`<table class="stack"><thead><tr><th scope="col">Pool</th><th scope="col">Tubes</th><th scope="col">Holds</th><th scope="col" class="n">Volume</th><th scope="col" class="n">Purity</th><th scope="col" class="n">Sure</th>${division && markup`<th scope="col">Suggested</th>`}<th scope="col">Why</th></tr></thead><tbody>${rows}</tbody></table>${gone.map((s) => markup`<p class="hint">Suggested besides: pool ${s.id}, ${tubesInWords(s.fractions)}, ${held(s)}.</p>`)}`,
  );
}

/** Whether a pool was taken as suggested, and if not, what was suggested. */
function takenAs(division: Division, pool: ResultPool): { words: string; reason: string | null; accepted: boolean } {
  const accepted = division.pools.find((p) => p.id === pool.id)?.accepted ?? false;
  const from = division.origin.get(pool.id);
  if (!from) return { words: "no such pool", reason: null, accepted };
  if (!asSuggested(division, pool))
    return { words: `${numberRanges(from.fractions)}: ${held(from)}`, reason: null, accepted };
  return { words: from.id === pool.id ? "the same" : `the same, as ${from.id}`, reason: from.reason, accepted };
}

function held({ components, kind }: ResultPool): string {
  return [components.join(" + "), kind].filter(Boolean).join(" ");
}

/** Tube by tube: state, composition, pool, confidence, reason. */
export function tubesSection({ result, palette, division }: Context): Markup {
  if (result.fractions.length === 0) return markup``;
  const rows = result.fractions.map((f) => {
    const doubtful = isDoubtful(f);
    const held = sharesOf(f).map(
      ([c, s], _, all) =>
        markup`<span class="nowrap">${raw(toneChip(toneOf(palette, c)))}${c} ${all.length === 1 ? "only" : percent(s)}</span> `,
    );
    return markup`<tr class="${doubtful ? "doubt" : ""}"><th scope="row" data-label="Tube">${f.number}${doubtful && markup`<span class="badge" title="doubtful">?</span>`}</th><td data-label="State">${stateInWords(f.state, f.seen)}</td><td data-label="Holds">${held.length > 0 ? held : "–"}</td><td data-label="Pool">${f.pool ?? "–"}</td>${division && markup`<td data-label="Suggested">${division.elsewhere.get(f.number) ?? "the same"}</td>`}<td data-label="Sure" class="n">${percent(f.confidence)}</td><td data-label="Remark" class="why">${f.reason ?? ""}</td></tr>`;
  });
  return section(
    "tubes",
    "Tubes",
    "Sure is the chance that the suggested pool is the right one.",
    markup`<table class="stack"><thead><tr><th scope="col">Tube</th><th scope="col">State</th><th scope="col">Holds</th><th scope="col">Pool</th>${division && markup`<th scope="col">Suggested</th>`}<th scope="col" class="n">Sure</th><th scope="col">Remark</th></tr></thead><tbody>${rows}</tbody></table>`,
  );
}

/** What each policy would give, side by side. */
export function policiesSection({ result, notes, palette, division }: Context): Markup {
  if (result.policies.length === 0) return markup``;
  const rows = result.policies.map((outcome) => {
    const chosen = outcome.policy === notes.policy;
    const name = policyInWords(outcome.policy);
    const clean = poolsOf(outcome, "clean");
    const mixed = poolsOf(outcome, "mixed");
    const label = `${name}: combine ${clean}; keep apart ${mixed}`;
    const strip = policyStripSvg({ outcome, tubes: result.fractions, palette, width: 260, label });
    return markup`<tr class="${chosen ? "chosen" : ""}"><th scope="row" data-label="Policy">${name}${chosen && markup` <span class="tag">${division ? "suggested" : "used here"}</span>`}</th><td data-label="Combine" class="picture">${clean}${raw(strip)}</td><td data-label="Keep apart">${mixed}</td><td data-label="Purity" class="n">${intervalInWords(outcome.purity)}${raw(intervalSvg(outcome.purity))}</td><td data-label="Recovery" class="n">${intervalInWords(outcome.recovery)}${raw(intervalSvg(outcome.recovery))}</td></tr>`;
  });
  return section(
    "trade",
    "Purity against recovery",
    `What stricter or laxer pooling would give${notes.want ? ` for ${notes.want}` : ""}, with 90 % intervals. Tall bars are clean pools, low hatched ones mixed.`,
    markup`<table class="stack"><thead><tr><th scope="col">Policy</th><th scope="col">Combine</th><th scope="col">Keep apart</th><th scope="col" class="n">Purity</th><th scope="col" class="n">Recovery</th></tr></thead><tbody>${rows}</tbody></table>`,
  );
}

function poolsOf(outcome: PolicyOutcome, kind: PolicyOutcome["pools"][number]["kind"]): string {
  const pools = outcome.pools.filter((p) => p.kind === kind).map((p) => numberRanges(p.fractions));
  return pools.length > 0 ? pools.join(" · ") : componentsInWords([]);
}

/** What to do next, worth the most first. */
export function adviceSection({ result }: Context): Markup {
  if (result.advice.length === 0) return markup``;
  const items = result.advice.map(
    (a) =>
      markup`<li>${a.message}${a.fractions.length > 0 && !/\d/.test(a.message) && ` (${tubesInWords(a.fractions)})`}</li>`,
  );
  return section("next", "What to do next", "Worth the most first.", markup`<ol class="advice">${items}</ol>`);
}
