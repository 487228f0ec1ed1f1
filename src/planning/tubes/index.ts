import type { Finding, LoggedTube, StageResult, TubeLog, TubeNote } from "../../model/index.ts";
import { PlatepoolError } from "../../model/index.ts";

/** Usual fraction of a small column, mL. Common practice, no source. */
export const USUAL_FRACTION_ML = 10;
/** Largest tube taken for one, mL; more is asked back. */
const LARGEST_TUBE_ML = 5000;

function checkNote(note: TubeNote, count: number): void {
  const which = note.from === note.to ? `tube ${note.from}` : `tubes ${note.from}-${note.to}`;
  if (!Number.isInteger(note.from) || !Number.isInteger(note.to) || note.from < 1 || note.to < note.from)
    throw new PlatepoolError("tube-range", `the tube log speaks of ${which}; write a tube as 7 or a range as 3-7.`);
  if (note.to > count)
    throw new PlatepoolError(
      "tube-unknown",
      `the tube log speaks of ${which}, but the run has ${count} tubes. Raise fractions: count, or mend the number.`,
    );
  const { volumeMl } = note;
  if (volumeMl !== null && (!Number.isFinite(volumeMl) || volumeMl < 0))
    throw new PlatepoolError("tube-volume", `${which} hold ${volumeMl} mL in the tube log; give 0 or more.`);
  if (volumeMl !== null && volumeMl > LARGEST_TUBE_ML)
    throw new PlatepoolError("tube-volume", `${which} hold ${volumeMl} mL in the tube log; is that mL, and not µL?`);
}

/**
 * The tubes of a run with their volumes, eluents, flasks and notes.
 * @param count tubes in the run, >= 1
 * @param usualMl volume of a tube where the log says nothing; null: nobody said, 10 mL is taken and asked about
 * @param notes later ones overrule earlier ones for volume, eluent and flask
 * @param eluent the eluent of tube 1, if known
 * @throws `tube-range`, `tube-unknown`, `tube-volume`
 */
export function logTubes(
  count: number,
  usualMl: number | null,
  notes: readonly TubeNote[],
  eluent: string | null,
): StageResult<TubeLog> {
  if (!Number.isInteger(count) || count < 1)
    throw new PlatepoolError("no-tubes", `the run has ${count} tubes; write fractions: { count: ... } in run.yaml.`);
  if (usualMl !== null && (!Number.isFinite(usualMl) || usualMl <= 0))
    throw new PlatepoolError("tube-volume", `a tube holds ${usualMl} mL; write fractions: { volume_ml: ... } above 0.`);
  for (const note of notes) checkNote(note, count);
  const tubes: LoggedTube[] = [];
  let through = 0;
  let flowing = eluent;
  let flask: string | null = null;
  for (let number = 1; number <= count; number++) {
    const about = notes.filter((note) => note.from <= number && number <= note.to);
    const said = about.map((note) => note.volumeMl).filter((ml) => ml !== null);
    const volumeMl = said.at(-1) ?? usualMl ?? USUAL_FRACTION_ML;
    for (const note of about)
      if (note.from === number) {
        flowing = note.eluent ?? flowing;
        flask = note.flask ?? flask;
      }
    tubes.push({
      number,
      volumeMl,
      startMl: through,
      endMl: through + volumeMl,
      assumed: said.length === 0 && usualMl === null,
      eluent: flowing,
      flask,
      notes: about.flatMap((note) => note.note ?? []),
    });
    through += volumeMl;
  }
  const findings: Finding[] = [];
  const assumed = tubes.filter((tube) => tube.assumed);
  if (assumed.length > 0)
    findings.push({
      code: "tubes-without-volume",
      message: `${assumed.length === count ? "No tube has a volume" : `Volumes of ${assumed.length} tubes are missing`}; ${USUAL_FRACTION_ML} mL each is assumed. Is that right?`,
      remedy: "Write fractions: { volume_ml: ... } or tubes: in run.yaml.",
      where: { fraction: assumed[0].number },
    });
  const changes = tubes.flatMap((tube, i) =>
    i > 0 && tube.eluent !== null && tube.eluent !== tubes[i - 1].eluent
      ? [{ tube: tube.number, eluent: tube.eluent }]
      : [],
  );
  return { value: { tubes, totalMl: through, changes }, findings };
}
