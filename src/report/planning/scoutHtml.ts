import type { EluentRanking, NextEluent, PairFigures, StepSuggestion, TrialAssessment } from "../../model/index.ts";
import { toneChip } from "../drawing/marks.ts";
import { type Palette, paletteOf, toneOf } from "../drawing/palette.ts";
import { type Markup, markup, raw } from "../markup.ts";
import { count, rfInWords } from "../words.ts";
import { FIGURES_CSS, findingList, pageHead, pageHtml } from "./page.ts";
import { SCOUT_PLATE_CSS, scoutPlateSvg } from "./scoutPlate.ts";

/** The summary of all scouting plates: the answer, one picture, one table, what to try next. */
export function scoutHtml(ranking: EluentRanking, run: string | null): string {
  const palette = paletteOf(ranking.components.map((c) => c.id));
  const title = run ? `Eluents compared: ${run}` : "Eluents compared";
  const plates = new Set(ranking.trials.flatMap((t) => t.plates)).size;
  const body = markup`${pageHead(title, [
    count(ranking.trials.length, "eluent"),
    count(plates, "plate"),
    `wanted: ${nameOf(ranking, ranking.wanted)}`,
  ])}${answer(ranking)}<section><figure>${raw(scoutPlateSvg({ ranking, palette, width: 1040, fontSize: 13 }))}<figcaption>Every eluent as a lane, the best on the left; the number is that of the table. ${legend(ranking, palette)}</figcaption></figure></section>${nextSection(ranking)}${table(ranking, palette)}${findingList(ranking.findings)}${cautions()}`;
  return pageHtml(title, FIGURES_CSS + SCOUT_PLATE_CSS, body);
}

export function nameOf(ranking: EluentRanking, id: string | null): string {
  if (id === null) return "nothing";
  const name = ranking.components.find((c) => c.id === id)?.name;
  return name ? `${id} (${name})` : id;
}

function answer(ranking: EluentRanking): Markup {
  const best = ranking.trials[0];
  const word = best.workable ? "Take" : "None is workable yet; the nearest is";
  return markup`<p class="lead"><b>${word} ${best.eluent.text}.</b> ${best.reason}</p>`;
}

function legend(ranking: EluentRanking, palette: Palette): Markup {
  return markup`${ranking.components.map(
    (c) =>
      markup`<span class="nowrap">${raw(toneChip(toneOf(palette, c.id)))}${nameOf(ranking, c.id)}${c.id === ranking.wanted && " wanted"}</span> `,
  )}`;
}

function pairCell(pair: PairFigures | null): Markup {
  if (!pair)
    return markup`<td class="n" data-label="closest pair">–</td><td class="n" data-label="R_S">–</td><td class="n" data-label="apart">–</td>`;
  return markup`<td class="n" data-label="closest pair">${pair.fast}/${pair.slow} ${pair.deltaRf.toFixed(2)}</td><td class="n" data-label="R_S">${pair.resolution.toFixed(1)}</td><td class="n" data-label="apart">${pair.columnVolumes.toFixed(1)}</td>`;
}

function row(trial: TrialAssessment, ranking: EluentRanking, palette: Palette): Markup {
  const wanted = trial.spots.find((s) => s.component === ranking.wanted);
  const spots = trial.spots.map(
    (s) => markup`<span class="nowrap">${raw(toneChip(toneOf(palette, s.component)))}${rfInWords(s.rf)}</span> `,
  );
  return markup`<tr class="${trial.rank === 1 ? "best" : ""}"><th scope="row" data-label="rank"><span class="rank">${String(trial.rank)}</span></th><td class="eluent">${trial.eluent.text}<small>${trial.reason}</small></td><td class="n" data-label="Rf">${spots}</td>${pairCell(trial.wantedPair ?? trial.closest)}<td class="n" data-label="tailing">${wanted ? wanted.tailing.toFixed(1) : "–"}</td><td class="n" data-label="off after">${wanted ? wanted.columnVolumes.toFixed(1) : "–"}</td></tr>`;
}

function table(ranking: EluentRanking, palette: Palette): Markup {
  const rows = ranking.trials.map((trial) => row(trial, ranking, palette));
  return markup`<section><h2>All eluents, the best first</h2><table class="stack"><thead><tr><th scope="col">Rank</th><th scope="col">Eluent</th><th scope="col">Rf</th><th scope="col">Pair, ΔRf</th><th scope="col"><i>R</i><sub>S</sub></th><th scope="col">Apart, CV</th><th scope="col">Tailing</th><th scope="col">Off at, CV</th></tr></thead><tbody>${rows}</tbody></table><p class="hint">Closest pair and <i>R</i><sub>S</sub> (Ph. Eur. 2.2.46) are those of the wanted component. CV: column volumes (hold-up volumes), 1/Rf, between the pair and until the wanted one is off. Workable: 0.15 apart, Rf 0.15 to 0.60.</p></section>`;
}

function nextItem(next: NextEluent): Markup {
  const expected = next.expected.map((e) => `${e.component} ${rfInWords(e.rf)}`).join(", ");
  const range =
    next.shareHigh - next.shareLow > 0.01
      ? ` Between ${percentShare(next.shareLow)} and ${percentShare(next.shareHigh)} of ${next.strong} is where the two laws put Rf 0.35.`
      : "";
  return markup`<li><b>${next.reason}</b> Expected Rf: ${expected}.${range}</li>`;
}

function percentShare(share: number): string {
  return `${share < 0.1 ? (share * 100).toFixed(1) : Math.round(share * 100)} %`;
}

function stepItem(step: StepSuggestion): Markup {
  const expected = step.expected.map((e) => `${e.component} ${rfInWords(e.rf)}`).join(", ");
  return markup`<li><b>Step gradient.</b> ${step.reason} Rf after the change: ${expected}.</li>`;
}

function nextSection(ranking: EluentRanking): Markup | null {
  if (ranking.next.length === 0 && !ranking.step) return null;
  return markup`<section><h2>What to try next</h2><ul class="advice">${ranking.next.map(nextItem)}${ranking.step && stepItem(ranking.step)}</ul></section>`;
}

function cautions(): Markup {
  return markup`<section><p class="hint">What runs apart on the plate is taken to the column; equal Rf is not proof of the same substance. Solvents in the fume hood, away from flames; never look into a UV lamp; local rules and qualified supervision come first.</p></section>`;
}
