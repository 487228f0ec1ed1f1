import type { PlateScore, RunScore } from "./run.ts";

/** A photo that went wrong, and how, in one line. */
export interface WorstPhoto {
  readonly run: string;
  readonly file: string;
  readonly harm: number;
  readonly what: string;
}

const list = (values: readonly string[], most = 4) =>
  values.slice(0, most).join(", ") + (values.length > most ? ` and ${values.length - most} more` : "");

function complaints(plate: PlateScore, photo: number): { harm: number; what: string[] } {
  const sighting = plate.match.sightings.find((s) => s.photo === photo)!;
  const { hits, missed, invented } = plate.tally;
  const what: string[] = [];
  let harm = missed + invented;
  if (!sighting.found) {
    what.push(`plate ${plate.match.truth.id} not found (${sighting.status})`);
    harm += 5;
  } else if (sighting.turned) {
    what.push(`${sighting.turned * 90} degrees turned`);
  } else if (sighting.cornerError! > 0.01) {
    what.push(`corners ${(100 * sighting.cornerError!).toFixed(1)} % off`);
    harm += 1;
  }
  if (!plate.laneCountRight && plate.match.read)
    what.push(`${plate.match.read.lanes.length} lanes read, ${plate.match.truth.lanes.length} there`);
  const lost = plate.lanes.flatMap((l) => l.missed.map((s) => `lane ${l.lane.index} Rf ${s.rf.toFixed(2)}`));
  const extra = plate.lanes.flatMap((l) => l.invented.map((s) => `lane ${l.lane.index} Rf ${s.rf.toFixed(2)}`));
  if (missed) what.push(`${missed} of ${hits + missed} spots missed (${list(lost)})`);
  if (invented) what.push(`${invented} invented (${list(extra)})`);
  return { harm, what };
}

/** The photos with most missed and invented spots, worst first; a plate's spots count for each of its photos. */
export function worstPhotos(scores: readonly RunScore[], most = 5): WorstPhoto[] {
  const all = scores.flatMap((score) =>
    score.truth.photos.map((photo, index): WorstPhoto => {
      const plates = score.plates.filter((p) => p.match.truth.photos.includes(index));
      const found = plates.map((p) => complaints(p, index));
      const light = photo.stain ?? photo.light;
      return {
        run: score.truth.run,
        file: photo.file,
        harm: found.reduce((sum, f) => sum + f.harm, 0),
        what: `${light}: ${found.flatMap((f) => f.what).join("; ")}`,
      };
    }),
  );
  return all
    .filter((photo) => photo.harm > 0)
    .sort((a, b) => b.harm - a.harm || a.run.localeCompare(b.run) || a.file.localeCompare(b.file))
    .slice(0, most);
}
