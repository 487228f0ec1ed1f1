import type {
  ComponentMending,
  Division,
  JournalLine,
  Mending,
  PlateKey,
  PlateMending,
  SpotMending,
  TubeEntry,
} from "../model/index.ts";
import { isPlate } from "./plates.ts";

/** What acts that stand come to. */
export interface Overrides {
  readonly division: Division | null;
  readonly plates: readonly PlateMending[];
  readonly components: readonly ComponentMending[];
  readonly log: readonly TubeEntry[];
}

export const NO_OVERRIDES: Overrides = { division: null, plates: [], components: [], log: [] };

/** Overrides after one more act: the last word on a thing counts. Acts that speak of other acts change nothing. */
export function withAct(before: Overrides, line: JournalLine): Overrides {
  const { act } = line;
  if (act.kind === "divide") return { ...before, division: { act: line.id, at: line.at, pools: act.pools } };
  if (act.kind === "log") return { ...before, log: [...before.log, act.entry] };
  if (act.kind !== "mend") return before;
  const { mending } = act;
  if (mending.what === "components-merge" || mending.what === "component-split")
    return { ...before, components: [...before.components, mending] };
  return { ...before, plates: mendedPlates(before.plates, mending) };
}

type OnPlate = Exclude<Mending, ComponentMending>;

function mendedPlates(plates: readonly PlateMending[], mending: OnPlate): PlateMending[] {
  const at = plates.findIndex((p) => isPlate(mending.plate, p.plate));
  const before = at < 0 ? unmended(mending.plate) : plates[at];
  const after = { ...mended(before, mending), plate: joined(before.plate, mending.plate) };
  return at < 0 ? [...plates, after] : plates.map((p, i) => (i === at ? after : p));
}

function unmended(plate: PlateKey): PlateMending {
  return { plate, corners: [], origin: null, front: null, lanes: null, laneNames: [], spots: [] };
}

/** The plate goes by all photos it was ever named by. */
function joined(a: PlateKey, b: PlateKey): PlateKey {
  return { photos: [...new Set([...a.photos, ...b.photos])], place: a.place };
}

function mended(before: PlateMending, mending: OnPlate): PlateMending {
  switch (mending.what) {
    case "corners": {
      const { photo, corners } = mending;
      return { ...before, corners: [...before.corners.filter((c) => c.photo !== photo), { photo, corners }] };
    }
    case "origin":
      return { ...before, origin: mending.y };
    case "front":
      return { ...before, front: mending.y };
    case "lanes":
      return { ...before, lanes: mending.lanes, laneNames: [] };
    case "lane-name": {
      const { lane } = mending;
      return { ...before, laneNames: [...before.laneNames.filter((l) => !sameLane(l.x, lane.x)), lane] };
    }
    default: {
      const { plate: _, ...spot } = mending;
      return { ...before, spots: [...before.spots, spot satisfies SpotMending] };
    }
  }
}

/** Lanes lie further apart than this, as a fraction of the plate's width: 22 lanes are the most a plate holds. */
const SAME_LANE = 0.01;

function sameLane(a: number, b: number): boolean {
  return Math.abs(a - b) < SAME_LANE;
}
