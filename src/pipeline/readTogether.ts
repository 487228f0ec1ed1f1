import { type Finding, lineAt, type MigrationLine } from "../model/index.ts";
import { type LinesTogether, linesTogether, type PlateShown } from "../plate/together/index.ts";
import type { GroupPlate, GroupReading, LinesByOthers, PhotoGroup } from "./group.ts";
import { type NamedPlate, nameLanes } from "./nameLanes.ts";
import type { ReadGroups } from "./run.ts";
import { readStandingAlike } from "./standAlike.ts";

/** Lines that lie off by less, as a share of the plate's height, are not worth another reading. */
const SAME = 0.006;
/** Less sure lines are left as the plate shows them. */
const SURE = 0.5;

/**
 * Reads the groups of a run, each by itself, and then once more those whose plates stand, or whose lines lie, otherwise than the run
 * as a whole shows: one plate's spots run on from those of the others.
 */
export async function readTogether(
  groups: readonly PhotoGroup[],
  readGroups: ReadGroups,
): Promise<readonly GroupReading[]> {
  const alone = await readStandingAlike(groups, readGroups);
  const lines = linesByOthers(alone.readings);
  if (lines.length === 0) return alone.readings;
  const again = alone.groups.flatMap((group, i) => {
    const own = lines.filter(({ plate }) => alone.readings[i].plates.some(({ key }) => key === plate));
    return own.length > 0 ? [{ i, own, group: { ...group, byOthers: own } }] : [];
  });
  const second = await readGroups(again.map(({ group }) => group));
  return alone.readings.map((reading, i) => {
    const k = again.findIndex((one) => one.i === i);
    if (k < 0) return reading;
    const { plates, photos } = second[k];
    return { ...reading, photos, plates: plates.map((plate) => withDoubt(plate, again[k].own)) };
  });
}

/** Where the run as a whole has the lines of plates of which nothing clear was seen. */
function linesByOthers(readings: readonly GroupReading[]): LinesByOthers[] {
  const plates = nameLanes(readings);
  const together = linesTogether(plates.map(shownOf));
  return plates.flatMap(({ key, reading }, i) => {
    const { origin, front, sure } = together[i];
    const off = Math.max(Math.abs(origin - reading.origin.y), Math.abs(front - reading.front.y));
    return sure >= SURE && off > SAME ? [{ plate: key, ...rounded(together[i]) }] : [];
  });
}

/** Not finer than it can be told: what a hair's breadth changes elsewhere need not have a plate read again. */
function rounded({ origin, front }: LinesTogether) {
  return { origin: Math.round(origin * 1000) / 1000, front: Math.round(front * 1000) / 1000 };
}

export function shownOf({ reading, places }: Pick<NamedPlate, "reading" | "places">): PlateShown {
  const { origin, front, lanes } = reading;
  const bend = (line: MigrationLine, x: number) => lineAt(line, x) - line.y;
  return {
    places,
    origin: origin.y,
    front: front.y,
    originGiven: origin.source === "given",
    frontGiven: front.source === "given",
    spots: lanes.flatMap(({ spots, fraction, label, x }) =>
      spots.map((s) => ({
        fromOrigin: s.y - bend(origin, x),
        fromFront: s.y - bend(front, x),
        tube: fraction,
        label,
        confidence: s.confidence,
      })),
    ),
  };
}

function withDoubt(plate: GroupPlate, lines: readonly LinesByOthers[]): GroupPlate {
  if (!lines.some((one) => one.plate.place === plate.key.place && one.plate.photos[0] === plate.key.photos[0]))
    return plate;
  const doubt: Finding = {
    code: "lines-by-others",
    message:
      "Origin or solvent front of this plate does not show clearly; they are put where its spots run on from those of the other plates.",
    remedy:
      "Look at the lines; if they are wrong, drag them, or write origin: and front: beside the plate in run.yaml.",
    where: { photo: plate.key.photos[0] },
  };
  return { ...plate, findings: [...plate.findings, doubt] };
}
