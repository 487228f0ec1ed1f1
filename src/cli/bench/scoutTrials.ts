import {
  type Eluent,
  PlatepoolError,
  type Result,
  type RunFile,
  type ScoutLane,
  type ScoutTrial,
} from "../../model/index.ts";
import { parseEluent } from "../../planning/index.ts";

/** A spot less likely than this to be there is left out of the comparison. */
const SURE = 0.5;

/** The plates of a reading sorted by the eluents that run.yaml names; a plate without one is left out. */
export function scoutTrials(result: Result, run: RunFile | null): readonly ScoutTrial[] {
  const trials = new Map<string, { eluent: Eluent; lanes: ScoutLane[] }>();
  for (const plate of result.plates) {
    const listed = run?.plates?.find((p) => p.photos.some((photo) => plate.photos.includes(photo.file)));
    const eluents = listed?.eluents ?? [];
    for (const lane of plate.lanes) {
      const text = eluents.length === 1 ? eluents[0] : eluents[lane.index - 1];
      if (text === undefined) continue;
      const eluent = parseEluent(text);
      const key = JSON.stringify(eluent.parts.map((p) => [p.solvent, p.share.toFixed(4)]));
      const trial = trials.get(key) ?? { eluent, lanes: [] };
      trials.set(key, trial);
      trial.lanes.push({
        plate: plate.id,
        lane: lane.index,
        label: lane.label,
        spots: lane.spots
          .filter((s) => s.confidence >= SURE)
          .map((s) => ({
            rf: s.rf,
            rfSd: s.rf_sd,
            widthRf: s.width_rf,
            tailing: s.tailing,
            amount: s.amount,
          })),
      });
    }
  }
  return [...trials.values()];
}

/** As `scoutTrials`, for a command that has nothing to do without one. Throws `no-eluents`. */
export function needTrials(result: Result, run: RunFile | null): readonly ScoutTrial[] {
  const trials = scoutTrials(result, run);
  if (trials.length > 0) return trials;
  throw new PlatepoolError(
    "no-eluents",
    result.plates.length === 0
      ? "no plate could be read, so there is nothing to compare"
      : 'run.yaml names no eluent: write eluent: "hexane/ethyl acetate 4:1" under each plate, or eluents: [...] for each lane',
  );
}
