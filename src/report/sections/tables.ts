import type { PolicyOutcome } from "../../model/index.ts";
import { toneChip } from "../drawing/palette.ts";
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
export function poolsSection({ result, palette }: Context): Markup {
  if (result.pools.length === 0) return markup``;
  const rows = result.pools.map(
    (p) =>
      markup`<tr><th scope="row" data-label="Pool">${p.id}</th><td data-label="Tubes">${numberRanges(p.fractions)}</td><td data-label="Holds">${p.components.map(
        (c) => markup`<span class="nowrap">${raw(toneChip(palette, c))}${c}</span> `,
      )}${p.kind}</td><td data-label="Volume" class="n">${volumeInWords(p.volume_ml) || "–"}</td><td data-label="Purity" class="n">${
        p.kind === "empty" ? "–" : intervalInWords(p.purity)
      }</td><td data-label="Sure" class="n">${percent(p.confidence)}</td><td data-label="Why" class="why">${p.reason}</td></tr>`,
  );
  return section(
    "pools",
    "Pools",
    "Purity is the share of the main component in all that the plates show, with a 90 % interval. What no plate shows is not in it.",
    markup`<table class="stack"><thead><tr><th scope="col">Pool</th><th scope="col">Tubes</th><th scope="col">Holds</th><th scope="col" class="n">Volume</th><th scope="col" class="n">Purity</th><th scope="col" class="n">Sure</th><th scope="col">Why</th></tr></thead><tbody>${rows}</tbody></table>`,
  );
}

/** Tube by tube: state, composition, pool, confidence, reason. */
export function tubesSection({ result, palette }: Context): Markup {
  if (result.fractions.length === 0) return markup``;
  const rows = result.fractions.map((f) => {
    const doubtful = isDoubtful(f);
    const held = sharesOf(f).map(
      ([c, s]) => markup`<span class="nowrap">${raw(toneChip(palette, c))}${c} ${percent(s)}</span> `,
    );
    return markup`<tr class="${doubtful ? "doubt" : ""}"><th scope="row" data-label="Tube">${f.number}${doubtful && markup`<span class="badge" title="doubtful">?</span>`}</th><td data-label="State">${stateInWords(f.state, f.seen)}</td><td data-label="Holds">${held.length > 0 ? held : "–"}</td><td data-label="Pool">${f.pool ?? "–"}</td><td data-label="Sure" class="n">${percent(f.confidence)}</td><td data-label="Remark" class="why">${f.reason ?? ""}</td></tr>`;
  });
  return section(
    "tubes",
    "Tubes",
    "Sure is the chance that the suggested pool is the right one.",
    markup`<table class="stack"><thead><tr><th scope="col">Tube</th><th scope="col">State</th><th scope="col">Holds</th><th scope="col">Pool</th><th scope="col" class="n">Sure</th><th scope="col">Remark</th></tr></thead><tbody>${rows}</tbody></table>`,
  );
}

/** What each policy would give, side by side. */
export function policiesSection({ result, notes }: Context): Markup {
  if (result.policies.length === 0) return markup``;
  const rows = result.policies.map((p) => {
    const chosen = p.policy === notes.policy;
    return markup`<tr class="${chosen ? "chosen" : ""}"><th scope="row" data-label="Policy">${policyInWords(p.policy)}${chosen && markup` <span class="tag">used here</span>`}</th><td data-label="Combine">${poolsOf(p, "clean")}</td><td data-label="Keep apart">${poolsOf(p, "mixed")}</td><td data-label="Purity" class="n">${intervalInWords(p.purity)}</td><td data-label="Recovery" class="n">${intervalInWords(p.recovery)}</td></tr>`;
  });
  return section(
    "trade",
    "Purity against recovery",
    `What stricter or laxer pooling would give${notes.want ? ` for ${notes.want}` : ""}, with 90 % intervals.`,
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
      markup`<li>${a.message}${a.fractions.length > 0 && markup` <span class="where">${tubesInWords(a.fractions)}</span>`}</li>`,
  );
  return section("next", "What to do next", "Worth the most first.", markup`<ol class="advice">${items}</ol>`);
}
