import type { ColumnPlan, Finding, PlannedBand } from "../../model/index.ts";

/** York, Chemistry teaching labs, "Determining suitable separation conditions". */
const YORK = { deltaRf: 0.15, slowest: 0.15, fastest: 0.6 } as const;

/** Share of a bed that may be liquid. Common practice, no source. */
const LIQUID = [0.4, 0.98] as const;

const two = (value: number) => value.toFixed(2);
const label = (band: PlannedBand) => (band.name ? `${band.component} (${band.name})` : band.component);

function rfFindings(plan: ColumnPlan): Finding[] {
  const found: Finding[] = [];
  for (const band of plan.bands) {
    const rf = plan.request.steps[band.step].rf[band.component];
    if (!band.collected)
      found.push({
        code: "stays-on-column",
        message: `${label(band)} at Rf ${two(rf)} would need ${band.columnVolumes.toFixed(0)} column volumes; it is left on the column.`,
        remedy: "Fine where it is waste; else change to a stronger eluent once the faster ones are off.",
        where: {},
      });
    else if (rf < YORK.slowest)
      found.push({
        code: "rf-too-low",
        message: `${label(band)} leaves at Rf ${two(rf)}, below ${YORK.slowest}: late, broad and thin.`,
        remedy: "Use a stronger eluent, or change to one once the faster components are off.",
        where: {},
      });
  }
  const fastest = plan.bands[0];
  const rf = plan.request.steps[fastest.step].rf[fastest.component];
  if (rf > YORK.fastest)
    found.push({
      code: "rf-too-high",
      message: `${label(fastest)} runs at Rf ${two(rf)}, above ${YORK.fastest}: it comes right behind the front, hardly separated.`,
      remedy: "Start with a weaker eluent.",
      where: {},
    });
  return found;
}

function pairFindings(plan: ColumnPlan): Finding[] {
  return plan.pairs.flatMap((pair) => {
    const who = `${pair.fast} and ${pair.slow}`;
    if (pair.deltaRf >= YORK.deltaRf) return [];
    return [
      {
        code: pair.deltaRf < 0.1 ? "pair-too-close" : "pair-close",
        message: `${who} differ by only ${two(pair.deltaRf)} in Rf (workable from ${YORK.deltaRf}); expected resolution ${pair.resolution.toFixed(1)}.`,
        remedy:
          pair.deltaRf < 0.1
            ? "Look for another pair of solvents first; else a weaker eluent, a wider column with less on it, small fractions, and a second run of what is mixed."
            : "A weaker eluent (the same difference lower on the plate separates better), less load, smaller fractions.",
        where: {},
      },
    ];
  });
}

function sizeFindings(plan: ColumnPlan): Finding[] {
  const found: Finding[] = [];
  const { request } = plan;
  if (plan.loadUse > 1.0001)
    found.push({
      code: "overload",
      message: `${request.loadMg} mg is ${Math.round(plan.loadUse * 100)} % of what ${plan.diameterMm} mm carries here (${Math.round(plan.loadLimitMg)} mg): the bands will run into each other.`,
      remedy: `Take a column of ${Math.ceil(plan.neededDiameterMm)} mm or more, or load in ${Math.ceil(plan.loadUse)} portions.`,
      where: {},
    });
  if (plan.diameterMm < 10 || plan.diameterMm > 50)
    found.push({
      code: "outside-table",
      message: `A diameter of ${plan.diameterMm} mm lies outside the table (10 to 50 mm); its figures are carried on in proportion to the cross-section.`,
      remedy: "Take them as a start, and watch the first fractions.",
      where: {},
    });
  const liquid = plan.holdUpMl / plan.bedMl;
  if (plan.holdUpSource === "measured" && (liquid < LIQUID[0] || liquid > LIQUID[1]))
    found.push({
      code: "hold-up-odd",
      message: `A hold-up volume of ${Math.round(plan.holdUpMl)} mL does not fit a bed of ${Math.round(plan.bedMl)} mL (usually ${Math.round(0.8 * plan.bedMl)} mL).`,
      remedy: "Check the diameter, the height of the bed and the measured volume.",
      where: {},
    });
  if (request.sorbent !== "silica")
    found.push({
      code: "not-silica",
      message: "The load limits are those of silica; alumina usually carries less.",
      remedy: "Load half, and use Rf values from alumina plates.",
      where: {},
    });
  const room = request.rack ? request.rack.rows * request.rack.columns : null;
  if (room !== null && plan.tubes.length > room) {
    const first = Math.min(...plan.bands.map((band) => band.fromMl));
    const bigger = plan.totalMl / room;
    found.push({
      code: "rack-too-small",
      message: `The plan fills ${plan.tubes.length} tubes, the rack holds ${room}.`,
      remedy: `Let the first ${Math.floor(first)} mL run into a flask, take fractions of ${Math.ceil(bigger)} mL, or have a second rack ready.`,
      where: {},
    });
  }
  return found;
}

/** What is doubtful about a plan, each with what to do: Rf out of range, pairs too close, load, size, rack. */
export function planFindings(plan: ColumnPlan): readonly Finding[] {
  return [...rfFindings(plan), ...pairFindings(plan), ...sizeFindings(plan)];
}
