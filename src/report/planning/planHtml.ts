import type { ColumnPlan, ElutionProfile, PlanCheck } from "../../model/index.ts";
import { toneChip } from "../drawing/marks.ts";
import { type Palette, paletteOf, toneOf } from "../drawing/palette.ts";
import { type Markup, markup, raw } from "../markup.ts";
import { count, rfInWords } from "../words.ts";
import { FIGURES_CSS, figures, findingList, pageHead, pageHtml } from "./page.ts";
import { PLAN_CHART_CSS, planChartSvg } from "./planChart.ts";

export interface PlanPage {
  readonly plan: ColumnPlan;
  readonly run: string | null;
  /** What came of it, where the plates of the fractions have been read. */
  readonly found: { readonly profiles: readonly ElutionProfile[]; readonly check: PlanCheck } | null;
  /** Why it is planned this way, for a second column; empty otherwise. */
  readonly reasons: readonly string[];
}

const round = (value: number, digits = 0) => value.toFixed(digits);

export function massText(mg: number): string {
  return mg >= 1000 ? `${Number((mg / 1000).toFixed(3))} g` : `${Number(mg.toFixed(1))} mg`;
}

/** The plan of a column as a page: figures, picture, table of components, doubts; with what was found where there is any. */
export function planHtml(page: PlanPage): string {
  const { plan, run } = page;
  const found = page.found && { ...page.found, ...inPlanLetters(page.found) };
  const ids = [...new Set([...plan.bands.map((b) => b.component), ...(found?.profiles.map((p) => p.component) ?? [])])];
  const palette = paletteOf(ids.sort());
  const title = `${found ? "Column, planned and found" : "Column plan"}${run ? `: ${run}` : ""}`;
  const { request } = plan;
  const lead = found ? foundLead(found.check) : leadOf(plan);
  const picture = planChartSvg({ plan, found, palette, width: 1040, fontSize: 13 });
  const body = markup`${pageHead(title, [
    `${massText(request.loadMg)} to load`,
    request.drive === "pressure" ? "gas pressure" : "gravity",
    request.sorbent,
    request.want === null ? "all components alike" : `wanted: ${labelOf(plan, request.want)}`,
  ])}<p class="lead">${lead}</p>${page.reasons.length > 0 && markup`<ul class="advice">${page.reasons.map((r) => markup`<li>${r}</li>`)}</ul>`}${findingList(found ? found.check.findings : [], "Against the plan")}${sizes(plan)}<section><h2>Which tubes</h2><figure>${raw(picture)}<figcaption>Amount over the tubes; widths as expected for ${String(Math.round(plan.plates))} theoretical plates at this load. Bars below: the middle 95 % of each component.</figcaption></figure></section>${bandTable(page, palette)}${found && evidence(found.check)}${findingList(plan.findings)}${cautions(plan)}`;
  return pageHtml(title, FIGURES_CSS + PLAN_CHART_CSS, body);
}

/** The found components under the letters that the plan has for them, so that one tone means one substance. */
function inPlanLetters({ profiles, check }: NonNullable<PlanPage["found"]>): NonNullable<PlanPage["found"]> {
  const letters = new Map(
    check.bands.flatMap((b) => (b.found ? [[b.found, b.planned ?? `${b.found}′`] as const] : [])),
  );
  const of = (id: string) => letters.get(id) ?? `${id}′`;
  return {
    profiles: profiles.map((p) => ({ ...p, component: of(p.component) })),
    check: { ...check, bands: check.bands.map((b) => ({ ...b, found: b.found === null ? null : of(b.found) })) },
  };
}

/** "found as E" where the reading has another letter for a planned component. */
function foundAs(page: PlanPage, id: string): string | null {
  const found = page.found?.check.bands.find((b) => b.planned === id)?.found ?? null;
  return found === null || found === id ? null : `${found} in the reading`;
}

function labelOf(plan: ColumnPlan, id: string): string {
  const name = plan.request.names[id];
  return name ? `${id} (${name})` : id;
}

function foundLead(check: PlanCheck): string {
  const matched = check.bands.filter((b) => b.planned && b.found).length;
  const order =
    check.pairs === 0
      ? ""
      : check.pairsInOrder === check.pairs
        ? ", in the planned order"
        : `, ${check.pairs - check.pairsInOrder} of ${check.pairs} pairs against the planned order`;
  const rest = check.findings.length === 0 ? ": the column did what was planned." : ", but not as planned.";
  return `${count(matched, "component")} of the plan found${order}${rest}`;
}

function leadOf(plan: ColumnPlan): string {
  const target = plan.bands.find((b) => b.component === plan.request.want) ?? plan.bands[plan.bands.length - 1];
  const eluent = plan.request.steps[0].eluent;
  return `Pack ${round(plan.sorbentG)} g of ${plan.request.sorbent} into a ${round(plan.diameterMm)} mm column to ${round(plan.request.bedCm)} cm, run ${eluent ? `with ${eluent}` : "it"}, fractions of ${plan.fractionMl} mL: ${labelOf(plan, target.component)} should come in tubes ${target.firstTube} to ${target.lastTube}.`;
}

function sizes(plan: ColumnPlan): Markup {
  const prepare = plan.eluents.map((e) => `${round(e.prepareMl)} mL`).join(", then ");
  const which = plan.eluents
    .map((e) => e.eluent ?? "")
    .filter(Boolean)
    .join(", then ");
  const delta = plan.decisiveDeltaRf;
  return markup`<section>${figures([
    ["Inner diameter", `${round(plan.diameterMm)} mm`, `at least ${round(plan.neededDiameterMm)} mm`],
    ["Sorbent", `${round(plan.sorbentG)} g`, plan.particles],
    ["Bed", `${round(plan.bedMl)} mL`, `${round(plan.request.bedCm)} cm high`],
    [
      "Hold-up volume",
      `${round(plan.holdUpMl)} mL`,
      plan.holdUpSource === "measured" ? "as measured" : "four fifths of the bed",
    ],
    [
      "Load limit",
      massText(plan.loadLimitMg),
      delta === null ? "one component" : `at ΔRf ${rfInWords(delta)}; ${round(plan.loadUse * 100)} % used`,
    ],
    ["Fractions", `${plan.fractionMl} mL`, `${plan.tubes.length} tubes`],
    ["Eluent to mix", prepare, `${which}${which ? "; " : ""}packing included`],
    [
      "Time",
      `${round(Math.max(1, plan.minutes))} min`,
      `at ${round(plan.flowMlPerMin, plan.flowMlPerMin < 10 ? 1 : 0)} mL/min`,
    ],
  ])}</section>`;
}

function bandTable(page: PlanPage, palette: Palette): Markup {
  const { plan } = page;
  const rows = plan.bands.map((band, i) => {
    const pair = plan.pairs[i - 1];
    const other = foundAs(page, band.component);
    const rf = plan.request.steps.map((s) => rfInWords(s.rf[band.component])).join(" → ");
    const tubes = band.collected ? `${band.firstTube}–${band.lastTube}` : "stays on the column";
    return markup`<tr><th scope="row">${raw(toneChip(toneOf(palette, band.component)))}${labelOf(plan, band.component)}${other && markup` <small>${other}</small>`}</th><td class="n" data-label="Rf">${rf}</td><td class="n" data-label="off at">${round(band.retentionMl)} mL</td><td class="n" data-label="column volumes">${round(band.columnVolumes, 1)}</td><td class="n" data-label="tubes">${tubes}</td><td class="n" data-label="to the one before">${pair ? `ΔRf ${rfInWords(pair.deltaRf)}, ${round(pair.columnVolumes, 1)} column volumes` : "–"}</td><td class="n" data-label="R_S">${pair ? round(pair.resolution, 1) : "–"}</td></tr>`;
  });
  return markup`<section><h2>Components in the order they come</h2><table class="stack"><thead><tr><th scope="col">Component</th><th scope="col">Rf</th><th scope="col">Off at</th><th scope="col">Column volumes</th><th scope="col">Tubes</th><th scope="col">To the one before</th><th scope="col"><i>R</i><sub>S</sub> expected</th></tr></thead><tbody>${rows}</tbody></table><p class="hint">Retention volume = hold-up volume / Rf (IUPAC: R = 1/(1 + k)), steps of eluent followed down the column. Size and load after Still, Kahn and Mitra, J. Org. Chem. 1978, 43, 2923 (from memory).</p></section>`;
}

function evidence(check: PlanCheck): Markup | null {
  const apart = check.tubes.filter((t) => t.verdict !== "agree");
  if (apart.length === 0)
    return markup`<section><p class="hint">Once the plan is shifted to where the bands came, it agrees with the photos on every tube.</p></section>`;
  const item = (verdict: "photos-win" | "plan-helps", text: string) => {
    const numbers = apart.filter((t) => t.verdict === verdict).map((t) => t.number);
    return numbers.length > 0 && markup`<li>${text}: ${numbers.join(", ")}.</li>`;
  };
  return markup`<section><h2>Tubes on which plan and photos differ, the plan shifted to where the bands came</h2><ul class="advice">${item("photos-win", "The lanes are clear, the photos stand")}${item("plan-helps", "Not spotted or doubtful, and the plan says otherwise; spot these")}</ul></section>`;
}

function cautions(plan: ColumnPlan): Markup {
  const pressure =
    plan.request.drive === "pressure"
      ? " Pressurised glass bursts: undamaged columns only, a shield, a relief, clamped joints."
      : "";
  return markup`<section><p class="hint">The column must never run dry: keep eluent above the top sand. Dry ${plan.request.sorbent} in the hood or with a mask; solvents away from flames.${pressure} Usual cautions only; local rules and qualified supervision come first.</p></section>`;
}
