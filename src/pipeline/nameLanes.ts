import { sameLane } from "../decisions/index.ts";
import type { Contradiction, Finding, GivenLane, Lane, PlateReading } from "../model/index.ts";
import type { GroupPlate, GroupReading } from "./group.ts";

/** A plate with its id and its lanes' names. */
export interface NamedPlate extends GroupPlate {
  readonly findings: readonly Finding[];
}

/**
 * Gives every plate its id (its place in the run file, else P1, P2 ... as they come) and every lane its tube: as the run
 * file says, else running on from lane to lane and plate to plate.
 */
export function nameLanes(groups: readonly GroupReading[]): NamedPlate[] {
  const plates = groups.flatMap((g) => g.plates);
  const ordered = [...plates].sort((a, b) => (a.listed ?? 0) - (b.listed ?? 0));
  let highest = 0;
  return ordered.map((plate, i) => {
    const id = `P${(plate.listed ?? i) + 1}`;
    const told = plate.laneNames === null ? counted(plate.reading, highest) : named(plate, id);
    const { lanes, unmet } = renamed(told.lanes, plate);
    highest = Math.max(highest, ...lanes.map((l) => l.fraction ?? 0));
    const placed = [...plate.findings, ...told.findings].map((f) => ({ ...f, where: { ...f.where, plate: id } }));
    return { ...plate, reading: { ...plate.reading, id, lanes }, findings: placed, unmet: [...plate.unmet, ...unmet] };
  });
}

function counted(reading: PlateReading, highest: number): { lanes: Lane[]; findings: Finding[] } {
  const lanes = reading.lanes.map((lane, i) => ({
    ...lane,
    label: String(highest + i + 1),
    fraction: highest + i + 1,
  }));
  return { lanes, findings: [] };
}

function named({ reading, laneNames, lanesLine }: GroupPlate, id: string): { lanes: Lane[]; findings: Finding[] } {
  const names = laneNames ?? [];
  const lanes = reading.lanes.map((lane, i): Lane => {
    const name = names[i];
    return name ? { ...lane, ...name } : { ...lane, label: "unnamed", fraction: null };
  });
  if (names.length === lanes.length) return { lanes, findings: [] };
  const files = reading.photos.map((p) => p.file).join(", ");
  const message = `run.yaml line ${lanesLine}: ${names.length} lanes are named, but plate ${id} (${files}) shows ${lanes.length}.`;
  return { lanes, findings: [{ code: "lane-count", message, remedy: remedy(names.length, lanes.length), where: {} }] };
}

/** Lanes that a person named one by one go by those names. */
function renamed(lanes: Lane[], { mending, reading }: GroupPlate): { lanes: Lane[]; unmet: Contradiction[] } {
  const unmet: Contradiction[] = [];
  const next = [...lanes];
  for (const given of mending?.laneNames ?? []) {
    const at = sameLane(next, given.x);
    if (at === null) unmet.push(laneGone(given, reading));
    else next[at] = { ...next[at], label: given.label, fraction: given.fraction };
  }
  return { lanes: next, unmet };
}

function laneGone({ label, fraction }: GivenLane, { photos }: PlateReading): Contradiction {
  const photo = photos[0].file;
  const message = `${photo}: a lane was named ${label} by hand, but this reading has no lane there.`;
  return { code: "mended-lane-gone", message, remedy: "Add the lane, or name another.", pool: null, fraction, photo };
}

function remedy(named: number, shown: number): string {
  return named > shown
    ? "The last names were left out: correct lanes:, or photograph the whole plate."
    : "The last lanes have no name: name every lane from left to right, empty ones too.";
}
