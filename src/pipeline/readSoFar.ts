import type { ElutionReading, ReadSettings } from "../model/index.ts";
import { assemble } from "./assemble.ts";
import type { GroupReading } from "./group.ts";
import { nameLanes } from "./nameLanes.ts";
import type { RunInput, RunReading } from "./run.ts";

/** Nothing has been decided. */
const UNDECIDED: ElutionReading = {
  ...{ components: [], assignments: [], profiles: [] },
  ...{ fractions: [], pools: [], policies: [], advice: [] },
};

/**
 * What the groups read so far show, to be looked at while the others are being read: photos and plates with lanes and
 * spots. No spot belongs to a component and there is no tube yet: both need all plates. A lane that nobody named has no
 * name, for its number depends on plates that may come before it.
 */
export function readSoFar(
  { run }: RunInput,
  settings: ReadSettings,
  read: readonly GroupReading[],
): Pick<RunReading, "result" | "straightened" | "photos"> {
  const photos = read.flatMap((g) => g.photos);
  const plates = nameLanes(read).map((plate) =>
    plate.laneNames === null
      ? { ...plate, reading: { ...plate.reading, lanes: plate.reading.lanes.map(unnamed) } }
      : plate,
  );
  return {
    result: assemble({ run: run?.run ?? null, settings, photos, plates, elution: UNDECIDED, findings: [] }),
    straightened: [],
    photos: photos.flatMap(({ file, picture }) => (picture ? [{ file, ...picture }] : [])),
  };
}

function unnamed<T extends object>(lane: T): T {
  return { ...lane, label: "", fraction: null };
}
