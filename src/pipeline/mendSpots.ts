import { rfInWords, sameLane, sameSpot } from "../decisions/index.ts";
import {
  type Contradiction,
  type Lane,
  lineAt,
  type PlateReading,
  type Spot,
  type SpotKey,
  type SpotMending,
} from "../model/index.ts";

type Candidates = () => readonly (readonly Spot[])[];

/** A spot that only a person sees: its width in Rf where the plate has no other spot to go by. */
const USUAL_WIDTH = 0.04;

export interface MendedReading {
  readonly reading: PlateReading;
  /** Where the reading has nothing of what was mended. */
  readonly unmet: readonly Contradiction[];
}

/**
 * A reading with spots added, moved and struck as a person did, in their order. Where a person sees a spot, what was
 * measured there counts, however faint; a spot that nothing was measured of counts with the smallest amount that would
 * have been found.
 * @param candidates everything in each lane that could be a spot, asked for only where it is needed
 */
export function mendSpots(read: PlateReading, mendings: readonly SpotMending[], candidates: Candidates): MendedReading {
  const unmet: Contradiction[] = [];
  let reading = read;
  for (const mending of mendings) {
    const at = sameLane(reading.lanes, mending.spot.lane);
    const lane = at === null ? null : reading.lanes[at];
    const found = lane === null ? null : sameSpot(lane.spots, mending.spot);
    if (lane === null || (found === null && mending.what !== "spot-add")) {
      unmet.push(gone(reading, mending));
      continue;
    }
    const spot = found === null ? null : lane.spots[found];
    const left = spot === null ? reading : withSpots(reading, lane, (spots) => spots.filter((s) => s !== spot));
    if (mending.what === "spot-strike") reading = left;
    else if (mending.what === "spot-add") reading = placed(left, candidates, mending.spot, spot);
    else reading = placed(left, candidates, mending.to, spot);
  }
  return { reading, unmet };
}

/** Puts a spot where a person says it is: as measured there, else `known` moved there, else the faintest there can be. */
function placed(reading: PlateReading, candidates: Candidates, key: SpotKey, known: Spot | null): PlateReading {
  const at = sameLane(reading.lanes, key.lane);
  if (at === null) return reading;
  const lane = reading.lanes[at];
  const here = sameSpot(lane.spots, key);
  if (here !== null) return withSpots(reading, lane, (spots) => spots.map((s, i) => (i === here ? sure(s) : s)));
  const there = candidates()[at] ?? [];
  const measured = sameSpot(there, key);
  const spot = measured === null ? movedTo(reading, lane, key, known ?? faintest(reading, lane)) : there[measured];
  return withSpots(reading, lane, (spots) => [...spots, sure(spot)].sort((a, b) => a.rf - b.rf));
}

function sure(spot: Spot): Spot {
  return { ...spot, confidence: 1 };
}

/** The spot moved to a key's height in a lane; its Rf follows from where origin and front lie now. */
function movedTo(reading: PlateReading, lane: Lane, { y }: SpotKey, spot: Spot): Spot {
  const origin = lineAt(reading.origin, lane.x);
  const front = lineAt(reading.front, lane.x);
  const rf = Math.min(1, Math.max(0, (origin - y) / Math.max(1e-3, origin - front)));
  const flags = spot.flags.filter((f) => f !== "at-origin" && f !== "at-front");
  return { ...spot, x: lane.x + lane.drift * (origin - y), y, rf, flags };
}

function faintest(reading: PlateReading, lane: Lane): Spot {
  const others = reading.lanes.flatMap((l) => l.spots);
  const usual = (value: (s: Spot) => number, otherwise: number) => {
    const sorted = others.map(value).sort((a, b) => a - b);
    return sorted[sorted.length >> 1] ?? otherwise;
  };
  const responses = reading.photos.map((photo, i) => ({
    ...{ light: photo.light, photo: i, amount: lane.detectionLimit[i] ?? 0, amountSd: lane.detectionLimit[i] ?? 0 },
    ...{ contrastToNoise: 2, peak: 0, colour: [0, 0, 0] as const },
  }));
  return {
    ...{ x: lane.x, y: 0, rf: 0, rfSd: 0.01, tailing: 1, confidence: 1, flags: [] },
    widthRf: usual((s) => s.widthRf, USUAL_WIDTH),
    widthX: usual((s) => s.widthX, USUAL_WIDTH),
    amount: responses[0].amount,
    amountSd: responses[0].amountSd,
    responses,
    lights: [responses[0].light],
  };
}

function withSpots(reading: PlateReading, lane: Lane, change: (spots: readonly Spot[]) => Spot[]): PlateReading {
  const lanes = reading.lanes.map((l) => (l.index === lane.index ? { ...l, spots: change(l.spots) } : l));
  return { ...reading, lanes };
}

const DEEDS = { "spot-add": "added", "spot-move": "moved", "spot-strike": "struck" } as const;

function gone(reading: PlateReading, { what, spot }: SpotMending): Contradiction {
  const photo = reading.photos[0]?.file ?? null;
  const lane = sameLane(reading.lanes, spot.lane);
  const where = lane === null ? "a lane that is not there any more" : `lane ${reading.lanes[lane].index}`;
  return {
    code: "mended-spot-gone",
    message: `${photo}: a spot was ${DEEDS[what]} by hand at ${rfInWords(spot.rf)} in ${where}; this reading shows none there.`,
    remedy: "Look at the lane; what was mended is kept.",
    ...{ pool: null, fraction: lane === null ? null : reading.lanes[lane].fraction, photo },
  };
}
