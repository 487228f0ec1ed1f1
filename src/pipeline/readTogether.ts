import { isPlate } from "../decisions/index.ts";
import { type Finding, lineAt, type MigrationLine, type PlateKey } from "../model/index.ts";
import { linesTogether, type PlateShown } from "../plate/together/index.ts";
import type { GroupPlate, GroupReading, LinesByOthers, PhotoGroup } from "./group.ts";
import { readJoined } from "./joinLooks.ts";
import { type NamedPlate, nameLanes } from "./nameLanes.ts";
import { ranAlike } from "./ranAlike.ts";
import type { ReadGroups } from "./run.ts";
import { readStandingAlike } from "./standAlike.ts";
import { standOnTracks } from "./standOnTracks.ts";

/** Lines that lie off by less, as a share of the plate's height, are not worth another reading. */
const SAME = 0.006;
/** Lines less sure are left as the plate shows them, unless they are so much likelier than those. */
const SURE = 0.5;
const LIKELIER = 1.5;

/**
 * Reads the groups of a run, each by itself, and then once more those whose plates stand, or whose lines lie, otherwise than the run
 * as a whole shows: one plate's spots run on from those of the others.
 */
export async function readTogether(
  groups: readonly PhotoGroup[],
  readGroups: ReadGroups,
): Promise<readonly GroupReading[]> {
  const once = await readJoined(groups, readGroups);
  const alone = await standOnTracks(once.groups, await readStandingAlike(once, readGroups), readGroups);
  const lines = linesOfAll(alone.readings);
  const moved = [...lines.values()].filter((one) => one.moved);
  const again = alone.groups.flatMap((group, i) => {
    const own = moved.filter(({ plate }) => alone.readings[i].plates.some(({ key }) => key === plate));
    return own.length > 0 ? [{ i, own, group: { ...group, byOthers: own.map(asTold) } }] : [];
  });
  const second = again.length > 0 ? await readGroups(again.map(({ group }) => group)) : [];
  return alone.readings.map((reading, i) => {
    const read = second[again.findIndex((one) => one.i === i)] ?? null;
    // What is lost the second time stays as it was read the first.
    const lost = read !== null && read.plates.length < reading.plates.length;
    const { plates, photos } = read === null || lost ? reading : read;
    return {
      ...reading,
      photos,
      plates: plates.map((plate) => {
        const before = reading.plates.find(({ key }) => isPlate(key, plate.key));
        const line = before && lines.get(before.key);
        if (line === undefined) return plate;
        const moved = line.moved && !lost;
        const told = { ...plate, reading: { ...plate.reading, linesSure: moved ? line.sure : line.asRead } };
        return moved ? { ...told, findings: [...plate.findings, doubtOf(plate)] } : told;
      }),
      crashes: [...reading.crashes, ...(read?.crashes ?? [])],
    };
  });
}

/** Where the run as a whole has the lines of a plate. */
interface LinesInRun extends LinesByOthers {
  /** Probability that they are nearly right, and that those are that the plate was read with. */
  readonly sure: number;
  readonly asRead: number;
  /** True where they are not those that the plate was read with: nothing clear was seen of them. */
  readonly moved: boolean;
}

function linesOfAll(readings: readonly GroupReading[]): Map<PlateKey, LinesInRun> {
  const lines = new Map<PlateKey, LinesInRun>();
  for (const plates of ranAlike(nameLanes(readings))) {
    const together = linesTogether(plates.map(shownOf));
    for (const [i, { key, reading }] of plates.entries()) {
      const { origin, front, sure, asRead } = together[i];
      const off = Math.max(Math.abs(origin - reading.origin.y), Math.abs(front - reading.front.y));
      const moved = (sure >= SURE || sure > LIKELIER * asRead) && off > SAME;
      lines.set(key, { plate: key, origin, front, moved, sure, asRead });
    }
  }
  return lines;
}

/** Not finer than it can be told: what a hair's breadth changes elsewhere need not have a plate read again. */
function asTold({ plate, origin, front }: LinesInRun): LinesByOthers {
  return { plate, origin: Math.round(origin * 1000) / 1000, front: Math.round(front * 1000) / 1000 };
}

function shownOf({ reading, places }: NamedPlate): PlateShown {
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

function doubtOf({ key }: GroupPlate): Finding {
  return {
    code: "lines-by-others",
    message:
      "Origin or solvent front of this plate does not show clearly; they are put where its spots run on from those of the other plates.",
    remedy:
      "Look at the lines; if they are wrong, drag them, or write origin: and front: beside the plate in run.yaml.",
    where: { photo: key.photos[0] },
  };
}
