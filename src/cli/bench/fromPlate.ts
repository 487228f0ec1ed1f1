import { type EluentRanking, PlatepoolError, type Result, type RunFile } from "../../model/index.ts";
import { isMixtureLane, type PartialRequest, parseEluent, rankEluents } from "../../planning/index.ts";
import { scoutTrials } from "./scoutTrials.ts";

function fromRanking(ranking: EluentRanking, wantedEluent: string | null): PartialRequest {
  const key = (text: string) =>
    parseEluent(text)
      .parts.map((p) => `${p.solvent} ${p.share.toFixed(3)}`)
      .join();
  const trial =
    wantedEluent === null ? ranking.trials[0] : ranking.trials.find((t) => key(t.eluent.text) === key(wantedEluent));
  if (!trial)
    throw new PlatepoolError(
      "eluent-not-tried",
      `${wantedEluent} is on none of the plates; tried were ${ranking.trials.map((t) => t.eluent.text).join(", ")}`,
    );
  return {
    steps: [
      { eluent: trial.eluent.text, fromMl: 0, rf: Object.fromEntries(trial.spots.map((s) => [s.component, s.rf])) },
    ],
    amounts: Object.fromEntries(trial.spots.map((s) => [s.component, s.share])),
    names: Object.fromEntries(ranking.components.flatMap((c) => (c.name ? [[c.id, c.name]] : []))),
    want: ranking.wanted,
  };
}

/** Components of a reading with their amounts in the lanes of mixtures (crude, co-spot). */
function fromCrude(result: Result, eluent: string | null): PartialRequest {
  const amounts: Record<string, number> = {};
  for (const plate of result.plates)
    for (const lane of plate.lanes)
      if (lane.fraction === null && isMixtureLane(lane.label))
        for (const spot of lane.spots)
          if (spot.component !== null) amounts[spot.component] = (amounts[spot.component] ?? 0) + spot.amount;
  const known = result.components.filter((c) => Object.keys(amounts).length === 0 || amounts[c.id] !== undefined);
  return {
    steps: [{ eluent, fromMl: 0, rf: Object.fromEntries(known.map((c) => [c.id, c.rf])) }],
    amounts,
  };
}

/**
 * Rf and proportions for a plan from the plates of a folder: of the best eluent (or the one named) where run.yaml names
 * eluents, else of what the reading shows. Throws `no-rf` where the plates show nothing.
 */
export function requestFromPlates(
  result: Result,
  run: RunFile | null,
  eluent: string | null,
  want: string | null,
): PartialRequest {
  const trials = scoutTrials(result, run);
  if (trials.length > 0) return fromRanking(rankEluents(trials, want), eluent);
  if (result.components.length === 0)
    throw new PlatepoolError("no-rf", "no spot shows on the plates: give --rf A=0.42,B=0.30");
  return fromCrude(result, eluent);
}
