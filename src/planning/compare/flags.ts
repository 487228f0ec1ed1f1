import type { BandComparison, ColumnPlan, Finding } from "../../model/index.ts";
import type { BandShape } from "./found.ts";
import type { MatchedBand } from "./match.ts";

/** k off by this factor, all alike, is no longer scatter of a hand-run column. Common practice, no source. */
const OFF = 1.5;
const BROAD = 2.5;
const TAIL = 2.5;

const times = (ratio: number) => (ratio >= 1 ? `${ratio.toFixed(1)} times` : `${Math.round(ratio * 100)} % of`);

/** Everything early or everything late: the eluent (or the hold-up volume) was another one. */
export function eluentFinding(ratios: readonly number[], middle: number): Finding[] {
  const spread = Math.log(Math.max(...ratios)) - Math.log(Math.min(...ratios));
  const alike = ratios.every((ratio) => ratio > 1 === middle > 1);
  if (Math.abs(Math.log(middle)) < Math.log(OFF) || !alike || spread > 0.7) return [];
  const early = middle < 1;
  return [
    {
      code: "eluent-not-as-planned",
      message: `${ratios.length === 1 ? "The component" : "All components"} came ${early ? "early" : "late"}, with ${times(middle)} the planned retention (k): the eluent was ${early ? "stronger" : "weaker"} than planned.`,
      remedy: `Check how the eluent was mixed, and whether the first tube was counted from the first drop; a hold-up volume ${early ? "smaller" : "larger"} than assumed shows the same.`,
      where: {},
    },
  ];
}

function smeared(band: BandComparison): boolean {
  return band.humps >= 2 || (band.widthRatio ?? 0) > BROAD || (band.tailing ?? 0) > TAIL;
}

/** Cracks and channels smear every band alike: two humps or long tails of every component (common practice, no source). */
export function bedFinding(
  bands: readonly BandComparison[],
  shapes: readonly (BandShape | null)[],
  plan: ColumnPlan,
): Finding[] {
  const matched = bands.filter((band) => band.planned !== null && band.found !== null);
  // A band that the last tube cuts off tells nothing of its tail.
  const whole = matched.filter((band) => band.tailing !== null || smeared(band));
  const broad = whole.filter(smeared);
  const early = shapes.some((shape) => shape !== null && shape.before(0.75 * plan.holdUpMl) > 0.03);
  const all = broad.length >= 2 && broad.length === whole.length;
  if (!all) return early ? [tooEarly(plan)] : [];
  const humps = matched.filter((band) => band.humps >= 2).length;
  const signs = [
    humps > 0
      ? `${humps === matched.length ? "every component comes" : `${humps} of ${matched.length} components come`} in two humps`
      : "",
    humps < matched.length ? "every band is far broader than planned or trails" : "",
    early ? "some came through before the hold-up volume" : "",
  ].filter(Boolean);
  return [
    {
      code: "bed-channelled",
      message: `The bed was probably cracked or channelled: ${signs.join(", ")}.`,
      remedy: "Pool narrowly, run the mixed pool again on a fresh bed, and never let the bed run dry.",
      where: {},
    },
  ];
}

/** Nothing can come before the hold-up volume: it is smaller than thought, the tubes are counted late, or a channel let it by. */
function tooEarly(plan: ColumnPlan): Finding {
  const volume = `the hold-up volume (${Math.round(plan.holdUpMl)} mL, ${plan.holdUpSource === "bed" ? "from the bed" : "measured"})`;
  return {
    code: "before-hold-up",
    message: `Something came before ${volume}, which nothing can.`,
    remedy:
      "Check that volume and from which drop the first tube was counted; if both are right, a channel in the bed let it by.",
    where: {},
  };
}

/** "C", or "C of the plan (D of the reading)" where the letters differ. */
function whom({ planned, found }: BandComparison): string {
  return planned === found || planned === null ? `${found}` : `${planned} of the plan (${found} of the reading)`;
}

/** One component away from where the others say it should be. */
export function strayFindings(bands: readonly BandComparison[], plan: ColumnPlan, middle: number): Finding[] {
  const matched = bands.filter((band) => band.kRatio !== null);
  if (matched.length < 2) return [];
  return matched.flatMap((band) => {
    const off = (band.kRatio ?? 1) / middle;
    const expectedMl = plan.holdUpMl + ((band.plannedMl ?? 0) - plan.holdUpMl) * middle;
    // Near the front k is a small difference of large numbers: the volume must be off as well.
    const awayMl = Math.abs((band.foundMl ?? expectedMl) - expectedMl);
    if (Math.abs(Math.log(off)) < Math.log(1.8) || awayMl < 0.5 * plan.holdUpMl || matched.length < 3) return [];
    return [
      {
        code: "component-off-plan",
        message: `${whom(band)} came ${off < 1 ? "earlier" : "later"} than the other components let expect.`,
        remedy: "Check its Rf in this eluent and whether it is the substance that it is taken for.",
        where: { fraction: band.foundTubes?.[0] },
      },
    ];
  });
}

/** Planned but not found, and found but not planned. */
export function missingFindings(matches: readonly MatchedBand[]): Finding[] {
  const gone = matches.flatMap(({ planned, found }): Finding[] =>
    planned && !found && planned.collected
      ? [
          {
            code: "planned-not-found",
            message: `${planned.component} was planned for tubes ${planned.firstTube} to ${planned.lastTube}, but shows in none.`,
            remedy: "Spot those tubes, look under another light, or go on with a stronger eluent.",
            where: { fraction: planned.firstTube },
          },
        ]
      : [],
  );
  const extra = matches.flatMap(({ planned, found }) => (!planned && found ? [found] : []));
  if (extra.length === 0) return gone;
  const names = extra.map((band) => `${band.component} (Rf ${band.rf.toFixed(2)})`).join(", ");
  const [first] = extra;
  return [
    ...gone,
    {
      code: "found-not-planned",
      message: `In the tubes, but not in the plan: ${names} of the reading.`,
      remedy: "Compare with the crude lane.",
      where: { fraction: first.tubes[first.amounts.indexOf(Math.max(...first.amounts))] },
    },
  ];
}
