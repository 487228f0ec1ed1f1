import type { ColumnPlan, RackLayout, TubeLog } from "../../model/index.ts";
import { tubeAt, tubePlace } from "../rack/index.ts";
import { bandShape } from "./found.ts";
import { kRatio, type MatchedBand, median } from "./match.ts";

/** Another order in which the tubes may really have been collected. */
export interface OrderGuess {
  /** What must have happened, to go on with "as if ...". */
  readonly words: string;
  /** Position at which a tube was collected. */
  readonly place: (tube: number) => number;
}

function guesses(count: number, rack: RackLayout | null): readonly OrderGuess[] {
  const list: OrderGuess[] = [
    { words: "the rack had been turned round and read from its last tube", place: (tube) => count + 1 - tube },
  ];
  const moved = (cut: number) => (tube: number) => (tube <= cut ? tube + (count - cut) : tube - cut);
  const room = rack ? rack.rows * rack.columns : null;
  if (room !== null && count > room) {
    list.push(
      { words: "the racks had changed places", place: moved(room) },
      { words: "the racks had changed places", place: moved(count - room) },
    );
  }
  if (rack) {
    for (const fill of ["rows", "serpentine", "columns", "columns-serpentine"] as const) {
      if (fill === rack.fill) continue;
      const other: RackLayout = { ...rack, fill };
      // Tube n stands where it was put when filling one way, and got its number by counting the other way.
      const place = (tube: number) => tubeAt(other, tubePlace(rack, tube)) ?? tube;
      list.push({
        words: `the rack had been filled by ${fillInWords(fill)} and counted by ${fillInWords(rack.fill)}`,
        place,
      });
    }
  } else
    for (let cut = 1; cut < count; cut++)
      list.push({ words: `tubes 1 to ${cut} and the rest had changed places`, place: moved(cut) });
  return list;
}

function fillInWords(fill: RackLayout["fill"]): string {
  return {
    rows: "rows",
    serpentine: "rows to and fro",
    columns: "columns",
    "columns-serpentine": "columns to and fro",
  }[fill];
}

/** How badly bands fit a plan in one order of the tubes; 0 is perfect. Scatter of ln k, wrong order, bands in pieces. */
function misfit(
  plan: ColumnPlan,
  bands: readonly MatchedBand[],
  log: TubeLog,
  place: (tube: number) => number,
): number {
  const fits = bands.flatMap(({ planned, found }) => {
    const shape = found ? bandShape(found, log, place) : null;
    return planned && shape ? [{ planned, shape, ratio: Math.log(kRatio(plan, planned, shape)) }] : [];
  });
  if (fits.length === 0) return Number.POSITIVE_INFINITY;
  const middle = median(fits.map((fit) => fit.ratio));
  const scatter = fits.reduce((sum, fit) => sum + Math.min(2, (fit.ratio - middle) ** 2), 0);
  let wrong = 0;
  for (const a of fits)
    for (const b of fits)
      if (a.planned.retentionMl < b.planned.retentionMl && a.shape.centreMl > b.shape.centreMl) wrong += 1;
  const pieces = fits.reduce((sum, fit) => sum + Math.max(0, fit.shape.roughness - 1), 0);
  return scatter + Math.min(1, middle * middle) + 2 * wrong + 2 * pieces;
}

/** How much better another order must fit before it is named. */
const CLEARLY = 2;

/** The order that fits a plan clearly better than the one written down, or null. Needs two matched components. */
export function betterOrder(
  plan: ColumnPlan,
  bands: readonly MatchedBand[],
  log: TubeLog,
  rack: RackLayout | null,
): OrderGuess | null {
  if (bands.filter((band) => band.planned && band.found).length < 2) return null;
  const asWritten = misfit(plan, bands, log, (tube) => tube);
  let best: OrderGuess | null = null;
  let least = asWritten - CLEARLY;
  for (const guess of guesses(log.tubes.length, rack)) {
    const value = misfit(plan, bands, log, guess.place);
    if (value < least - 1e-9) [best, least] = [guess, value];
  }
  return best;
}
