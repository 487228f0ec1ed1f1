import type { Lane, Light, LinePlaces, MigrationLine, PlateReading, Spot } from "../../src/model/index.ts";
import type { GroupPlate, GroupReading, PhotoReading } from "../../src/pipeline/group.ts";

const QUALITY = { blurPx: 2, clipped: [0, 0, 0], evenness: 0.9, platePx: 900, cutOff: false, advice: null } as const;

export function line(y: number, source: MigrationLine["source"] = "found"): MigrationLine {
  return { y, tilt: 0, bow: 0, source, sd: 0.002 };
}

function spot(rf: number, amount: number, light: Light): Spot {
  const height = 0.0005 * amount;
  const response = {
    light,
    photo: 0,
    amount,
    amountSd: amount * 0.02,
    contrastToNoise: 40,
    peak: height,
    colour: [height, height, height],
  } as const;
  return {
    ...{
      x: 0.5,
      y: 0.9 - 0.8 * rf,
      rf,
      rfSd: 0.004,
      widthRf: 0.04,
      widthX: 0.05,
      tailing: 1,
      amount,
      amountSd: amount * 0.02,
    },
    ...{ confidence: 0.99, flags: [], responses: [response], lights: [light] },
  };
}

/** A plate whose lanes hold the given spots, as [Rf, amount]. */
export function plate(
  file: string,
  lanes: readonly (readonly (readonly [number, number])[])[],
  light: Light = "uv254",
): PlateReading {
  return {
    id: "",
    photos: [
      {
        file,
        light,
        stain: null,
        corners: [
          [0.123456, 0],
          [900, 0],
          [900, 1200],
          [0, 1200],
        ],
        quality: QUALITY,
      },
    ],
    aspect: 4 / 3,
    origin: line(0.9),
    front: line(0.1),
    linesSure: 1,
    lanes: lanes.map(
      (spots, i): Lane => ({
        ...{ index: i + 1, label: String(i + 1), fraction: null, x: (i + 1) / (lanes.length + 1), drift: 0 },
        ...{ spots: spots.map(([rf, amount]) => spot(rf, amount, light)), detectionLimit: [1] },
      }),
    ),
  };
}

export function photoOf(file: string, light: Light = "uv254"): PhotoReading {
  return { file, reason: null, light, quality: QUALITY, width: 900, height: 1200, picture: null };
}

/** The lines where they were read, and nowhere else. */
function placesOf({ origin, front }: PlateReading): LinePlaces {
  return { origin: [{ y: origin.y, sd: 0, probability: 1 }], front: [{ y: front.y, sd: 0, probability: 1 }] };
}

export function groupOf(reading: PlateReading, listed: Partial<GroupPlate> = {}): GroupReading {
  const plate = {
    listed: null,
    laneNames: null,
    lanesLine: null,
    eluents: [],
    reading,
    key: { photos: reading.photos.map((p) => p.file), place: 0 },
    places: placesOf(reading),
    findings: [],
    straightened: [],
    mending: null,
    unmet: [],
    ...listed,
  };
  return { photos: reading.photos.map((p) => photoOf(p.file, p.light)), plates: [plate], findings: [], crashes: [] };
}
