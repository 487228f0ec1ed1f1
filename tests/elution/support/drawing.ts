import type { Lane, PlatePhoto, PlateReading, Spot } from "../../../src/model/index.ts";

/** A spot as tests write it; the rest is filled in. */
export interface SketchedSpot {
  readonly rf: number;
  /** In detection limits; 1 is just found. */
  readonly amount: number;
  readonly confidence?: number;
  readonly width?: number;
  readonly flags?: Spot["flags"];
}

export interface SketchedLane {
  readonly label: string;
  readonly spots: readonly SketchedSpot[];
}

const LIMIT = 0.3;

/**
 * Plates drawn as text, one line for each Rf, one column for each lane, "|" between plates; digits are amounts (9 strong,
 * 1 at the limit), "." nothing:
 *
 *     rf    crude 1 2 3 | 4 5 6
 *     0.60  5     . 4 9 | 3 . .
 *     0.30  3     . . . | 2 8 2
 */
export function drawnPlates(drawing: string): PlateReading[] {
  const rows = drawing
    .split("\n")
    .map((line) => line.trim())
    .filter((line) => line.length > 0);
  const plates: SketchedLane[][] = [[]];
  const columns: { plate: number; lane: number }[] = [];
  for (const word of rows[0].split(/\s+/).slice(1)) {
    if (word === "|") plates.push([]);
    else {
      const lanes = plates[plates.length - 1];
      lanes.push({ label: word, spots: [] });
      columns.push({ plate: plates.length - 1, lane: lanes.length - 1 });
    }
  }
  for (const row of rows.slice(1)) {
    const [rf, ...cells] = row.split(/\s+/).filter((w) => w !== "|");
    if (cells.length !== columns.length)
      throw new Error(`row ${rf} has ${cells.length} cells for ${columns.length} lanes`);
    cells.forEach((cell, c) => {
      if (cell === ".") return;
      const lane = plates[columns[c].plate][columns[c].lane];
      (lane.spots as SketchedSpot[]).push({ rf: Number(rf), amount: 1.6 ** Number(cell) });
    });
  }
  return plates.map((lanes, p) => sketchedPlate(`P${p + 1}`, lanes));
}

/** One plate under 254 nm from sketched lanes; a label that is a number is that fraction. */
export function sketchedPlate(id: string, lanes: readonly SketchedLane[]): PlateReading {
  const quality = {
    blurPx: 4.5,
    clipped: [0, 0, 0] as const,
    evenness: 0.9,
    platePx: 1500,
    cutOff: false,
    advice: null,
  };
  const corners = [
    [0, 0],
    [1500, 0],
    [1500, 2000],
    [0, 2000],
  ] as const;
  const photos: PlatePhoto[] = [{ file: `${id}.jpg`, light: "uv254", stain: null, corners, quality }];
  const line = { tilt: 0, bow: 0, source: "found" as const, sd: 0.003 };
  const drawn = lanes.map((lane, i): Lane => {
    const x = (i + 0.5) / lanes.length;
    const fraction = /^\d+$/.test(lane.label) ? Number(lane.label) : null;
    const spots = lane.spots.map((s) => sketchedSpot(s, x));
    return { index: i + 1, label: lane.label, fraction, x, drift: 0, spots, detectionLimit: [LIMIT] };
  });
  return {
    id,
    photos,
    aspect: 1.33,
    linesSure: 1,
    origin: { ...line, y: 0.85 },
    front: { ...line, y: 0.15 },
    lanes: drawn,
  };
}

function sketchedSpot(s: SketchedSpot, x: number): Spot {
  const amount = s.amount * LIMIT;
  const amountSd = 0.05 * amount + 0.02;
  const cnr = 5 * s.amount;
  return {
    x,
    y: 0.85 - 0.7 * s.rf,
    rf: s.rf,
    rfSd: 0.004,
    widthRf: s.width ?? 0.045,
    widthX: 0.05,
    tailing: 1,
    amount,
    amountSd,
    confidence: s.confidence ?? 0.97,
    flags: s.flags ?? [],
    responses: [
      {
        light: "uv254",
        photo: 0,
        amount,
        amountSd,
        contrastToNoise: cnr,
        peak: 0.0024 * cnr,
        colour: [0.5, 0.9, 0.6].map((c) => c * 0.0024 * cnr) as unknown as readonly [number, number, number],
      },
    ],
    lights: ["uv254"],
  };
}
