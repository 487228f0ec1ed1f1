import type { EluentRanking, Finding, ScoutTrial, TrialAssessment, TrialSpot } from "../../model/index.ts";
import { PlatepoolError } from "../../model/index.ts";
import { checkRf, columnVolumes } from "../retention/index.ts";
import { assessTrial, IDEAL_RF, WORKABLE } from "./assess.ts";
import { type Followed, followSubstances } from "./follow.ts";
import { familiesOf, nextInFamily } from "./next.ts";
import { suggestStep } from "./step.ts";
import { substancesOf } from "./substances.ts";

const letter = (index: number): string =>
  index < 26 ? String.fromCharCode(65 + index) : `${letter(Math.floor(index / 26) - 1)}${letter(index % 26)}`;

/** Rf within which a substance that hides is taken to lie under the nearest spot, and the share from which it cannot
 *  simply have been too faint to see. Common practice, no source. */
const UNDER = { rf: 0.2, share: 0.04 };

/** A proposal must be expected to come this near to the best eluent tried. */
const NEARLY = 0.9;

function spotsOf(followed: readonly Followed[], trial: number): TrialSpot[] {
  return followed
    .flatMap((one, index) => {
      const seen = one.seen[trial];
      if (!seen) return [];
      const { rf, rfSd, widthRf, tailing, share } = seen;
      return [
        {
          component: letter(index),
          rf,
          rfSd,
          widthRf,
          tailing,
          share,
          columnVolumes: columnVolumes(Math.max(0.01, rf)),
        },
      ];
    })
    .sort((a, b) => b.rf - a.rf);
}

function hiddenIn(followed: readonly Followed[], trial: number, spots: readonly TrialSpot[]) {
  return followed.flatMap((one, index) => {
    const rf = one.hiddenRf[trial];
    if (rf === null || spots.length === 0) return [];
    const near = spots.reduce((a, b) => (Math.abs(b.rf - rf) < Math.abs(a.rf - rf) ? b : a));
    // Seen in one eluent of many alone, it is rather a spot read in pieces than one that hides everywhere else.
    const seen = one.seen.filter((spot) => spot !== null).length;
    if (seen < 2 && one.seen.length > 2) return [];
    const strong = Math.max(...one.seen.map((seen) => seen?.share ?? 0)) >= UNDER.share;
    const under = strong && Math.abs(near.rf - rf) <= UNDER.rf ? near.component : null;
    return [{ component: letter(index), under }];
  });
}

function pickWanted(followed: readonly Followed[], want: string | null, findings: Finding[]): string | null {
  if (followed.length === 0) return null;
  if (want !== null) {
    const plain = want.trim().toLowerCase();
    const named = followed.findIndex((one) => one.name?.toLowerCase() === plain);
    if (named >= 0) return letter(named);
    const lettered = followed.findIndex((_, index) => letter(index).toLowerCase() === plain);
    if (lettered >= 0) return letter(lettered);
    const known = followed.map((one, i) => (one.name ? `${letter(i)} (${one.name})` : letter(i))).join(", ");
    throw new PlatepoolError(
      "wanted-unknown",
      `"${want}" is on none of the plates; what shows is ${known}. Name one of these.`,
    );
  }
  const total = (one: Followed) => one.seen.reduce((sum, s) => sum + (s?.share ?? 0), 0);
  const index = followed.reduce((best, one, i) => (total(one) > total(followed[best]) ? i : best), 0);
  findings.push({
    code: "wanted-not-named",
    message: `Nobody said which component is wanted; the strongest one, ${letter(index)}, is taken.`,
    remedy: "Name it: a letter or the label of a reference lane.",
    where: {},
  });
  return letter(index);
}

/**
 * Ranks the eluents of scouting plates for the wanted component.
 * @param trials one entry per eluent; Rf in 0..1, widths in Rf, amounts >= 0
 * @param want letter of a component or label of a reference lane; null takes the strongest spot
 * @throws `no-trials`, `rf-out-of-range`, `wanted-unknown`
 */
export function rankEluents(trials: readonly ScoutTrial[], want: string | null): EluentRanking {
  if (trials.length === 0)
    throw new PlatepoolError("no-trials", "no plate names its eluent; write `eluent:` under each plate in run.yaml.");
  for (const trial of trials)
    for (const lane of trial.lanes)
      for (const spot of lane.spots) checkRf(spot.rf, `lane ${lane.label} in ${trial.eluent.text}`);
  const findings: Finding[] = [];
  const followed = followSubstances(trials.map(substancesOf));
  const components = followed.map((one, index) => ({ id: letter(index), name: one.name }));
  const nameOf = (id: string) => {
    const name = components.find((c) => c.id === id)?.name;
    return name ? `${id} (${name})` : id;
  };
  const wanted = pickWanted(followed, want, findings);
  const assessed = trials.map((trial, index) => {
    const spots = spotsOf(followed, index);
    const plates = [...new Set(trial.lanes.map((lane) => lane.plate))];
    if (spots.length === 0)
      findings.push({
        code: "eluent-shows-nothing",
        message: `No spot shows in ${trial.eluent.text}.`,
        remedy: "Spot more, or look under another light.",
        where: { plate: plates[0] },
      });
    return assessTrial(trial.eluent, plates, spots, hiddenIn(followed, index, spots), wanted, nameOf);
  });
  const ranked: TrialAssessment[] = assessed
    .map((trial, index) => ({ trial, index }))
    .sort((a, b) => b.trial.score - a.trial.score || a.index - b.index)
    .map(({ trial }, index) => ({ ...trial, rank: index + 1 }));
  const families = familiesOf(ranked);
  const best = ranked[0];
  const next =
    wanted === null
      ? []
      : families.flatMap((family) => nextInFamily(family, wanted, NEARLY * best.score, nameOf) ?? []);
  const home = families.find((family) => family.members.some((m) => m.trial === best));
  if (wanted !== null && !ranked.some((trial) => trial.workable))
    findings.push({
      code: "no-workable-eluent",
      message: `No eluent tried brings ${nameOf(wanted)} to Rf ${WORKABLE.slowest} to ${WORKABLE.fastest} with ${WORKABLE.deltaRf} to its neighbours (best near ${IDEAL_RF}).`,
      remedy: next.some((n) => n.measured)
        ? "Try what is proposed next; if the pair stays close, another pair of solvents."
        : "Try another pair of solvents: a different kind of strong solvent (ester, ether, ketone, alcohol, chlorinated) moves pairs apart that one kind does not.",
      where: {},
    });
  return {
    components,
    wanted,
    trials: ranked,
    next: next.slice(0, 3),
    step: best ? suggestStep(best, ranked, home, nameOf) : null,
    findings,
  };
}

export { describeMixture, parseEluent } from "./parseEluent.ts";
export { isMixtureLane } from "./substances.ts";
