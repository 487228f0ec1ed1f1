import type { BandComparison, ColumnPlan, Finding, PlanCheck, RackLayout, Result, TubeLog } from "../../model/index.ts";
import { tubeEvidence } from "./evidence.ts";
import { bedFinding, eluentFinding, missingFindings, strayFindings } from "./flags.ts";
import { type BandShape, bandShape, foundBands } from "./found.ts";
import { kRatio, type MatchedBand, matchBands, median } from "./match.ts";
import { betterOrder } from "./rackOrder.ts";

function compareBand({ planned, found }: MatchedBand, shape: BandShape | null, plan: ColumnPlan): BandComparison {
  return {
    planned: planned?.component ?? null,
    found: found?.component ?? null,
    plannedMl: planned?.retentionMl ?? null,
    foundMl: shape?.centreMl ?? null,
    plannedTubes: planned ? [planned.firstTube, planned.lastTube] : null,
    foundTubes: shape ? [shape.firstTube, shape.lastTube] : null,
    kRatio: planned && shape ? kRatio(plan, planned, shape) : null,
    widthRatio: planned && shape ? shape.sdMl / Math.hypot(planned.sdMl, plan.fractionMl / 4) : null,
    humps: shape?.humps ?? 0,
    tailing: shape?.tailing ?? null,
  };
}

function countOrder(bands: readonly BandComparison[]): { pairs: number; inOrder: number } {
  let pairs = 0;
  let inOrder = 0;
  for (const a of bands)
    for (const b of bands) {
      if (a.plannedMl === null || b.plannedMl === null || a.foundMl === null || b.foundMl === null) continue;
      if (a.plannedMl >= b.plannedMl) continue;
      pairs += 1;
      if (a.foundMl < b.foundMl) inOrder += 1;
    }
  return { pairs, inOrder };
}

function summarise(findings: readonly Finding[], order: { pairs: number; inOrder: number }, matched: number): string {
  if (matched === 0) return "None of the planned components could be matched with one that was found.";
  const sequence =
    order.pairs === 0
      ? ""
      : order.inOrder === order.pairs
        ? ", in the planned order"
        : `, ${order.pairs - order.inOrder} of ${order.pairs} pairs against the planned order`;
  const [first] = findings;
  return `${matched} ${matched === 1 ? "component" : "components"} of the plan found${sequence}${first ? `. ${first.message}` : ", as planned."}`;
}

/**
 * A plan against what the plates of the fractions show: each band's place and width, the order, what is off and why
 * (wrong eluent, channelled bed, tubes in another order), and tube by tube whether both agree. Nothing of the reading
 * is changed: where the two disagree, the photos win.
 * @param log the tubes with their volumes; `rack` how they stand, null where nobody said
 */
export function checkPlan(plan: ColumnPlan, result: Result, log: TubeLog, rack: RackLayout | null): PlanCheck {
  const matches = matchBands(plan, foundBands(result));
  const shapes = matches.map(({ found }) => (found ? bandShape(found, log) : null));
  const bands = matches.map((match, i) => compareBand(match, shapes[i], plan));
  const ratios = bands.flatMap((band) => band.kRatio ?? []);
  const middle = ratios.length > 0 ? median(ratios) : null;
  const order = countOrder(bands);
  const swapped = betterOrder(plan, matches, log, rack);
  const findings: Finding[] = [];
  if (swapped)
    findings.push({
      code: "tubes-swapped",
      message: `The bands come as if ${swapped.words}.`,
      remedy: "Compare the labels on the tubes with the plates before pooling; if so, correct the numbers in run.yaml.",
      where: {},
    });
  else {
    if (middle !== null) findings.push(...eluentFinding(ratios, middle), ...strayFindings(bands, plan, middle));
    findings.push(...bedFinding(bands, shapes, plan));
    if (order.inOrder < order.pairs)
      findings.push({
        code: "order-against-plan",
        message: `${order.pairs - order.inOrder} of ${order.pairs} pairs of components came off against the order of their Rf.`,
        remedy: "Check lanes and tube numbers; the photos stand as they are.",
        where: {},
      });
  }
  findings.push(...missingFindings(matches));
  return {
    bands,
    tubes: tubeEvidence(plan, result, log, matches, shapes, middle ?? 1),
    pairsInOrder: order.inOrder,
    pairs: order.pairs,
    kRatio: middle,
    findings,
    summary: summarise(findings, order, ratios.length),
  };
}

export { readingLetter, readingNames } from "./letters.ts";
