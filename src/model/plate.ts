import type { Light, PhotoQuality, Quad } from "./photo.ts";

/** Where a line of the plate comes from: seen, told in the run file, or taken from custom. */
export type LineSource = "found" | "given" | "assumed";

/**
 * Origin or solvent front across the plate, in plate fractions (y: 0 top edge, 1 bottom edge; u: 0 left, 1 right):
 * y(u) = y + tilt * (u - 0.5) + bow * (2u - 1)^2.
 */
export interface MigrationLine {
  /** At the plate's middle (u = 0.5). */
  readonly y: number;
  readonly tilt: number;
  readonly bow: number;
  readonly source: LineSource;
  /** Standard uncertainty of y, as a fraction of the plate's height. */
  readonly sd: number;
}

/** Somewhere a line may be, as a share of the plate's height from the top, give or take `sd` (0: as exact as lines are seen). */
export interface LinePlace {
  readonly y: number;
  readonly sd: number;
  /** How likely it is to be there rather than at one of the other places: they sum to 1. */
  readonly probability: number;
}

/** Everywhere that origin and front of a plate may be. */
export interface LinePlaces {
  readonly origin: readonly LinePlace[];
  readonly front: readonly LinePlace[];
}

/** Height of a migration line at u (0 left edge, 1 right edge), as a fraction of the plate's height from the top. */
export function lineAt(line: MigrationLine, u: number): number {
  const c = 2 * u - 1;
  return line.y + line.tilt * (u - 0.5) + line.bow * c * c;
}

export const SPOT_FLAGS = ["at-origin", "at-front", "overloaded", "streak", "touching"] as const;
export type SpotFlag = (typeof SPOT_FLAGS)[number];

/** What one light shows of a spot. */
export interface SpotResponse {
  readonly light: Light;
  /** Index of the photo in `PlateReading.photos`. */
  readonly photo: number;
  /** Integrated signal (optical density, or relative emission at 365 nm) over the spot's area, in mm-free units:
   *  density x plate-width fraction squared x 1e4. Negative where the spot is brighter than a ground it should darken. */
  readonly amount: number;
  /** Standard uncertainty of `amount`, same unit. */
  readonly amountSd: number;
  /** Peak signal over the noise of the ground averaged over the spot's core. */
  readonly contrastToNoise: number;
  /** Peak density or relative emission. */
  readonly peak: number;
  /** Density in linear red, green and blue at the core, for telling substances apart by colour. */
  readonly colour: readonly [number, number, number];
  /** Linear red, green and blue of the bare layer there, 0..1, where `colour` is emission (365 nm). */
  readonly bare?: readonly [number, number, number];
}

export interface Spot {
  /** Centre in plate fractions (x from the left, y from the top). */
  readonly x: number;
  readonly y: number;
  /** Retardation factor of the centre, 0..1 (IUPAC Gold Book R05353). */
  readonly rf: number;
  /** Standard uncertainty of `rf`, origin and front included. */
  readonly rfSd: number;
  /** Full width at half maximum along the lane, in Rf. */
  readonly widthRf: number;
  /** Full width at half maximum across the lane, as a fraction of the plate's width. */
  readonly widthX: number;
  /** Back half over front half of the width at a tenth of the height (below the centre over above it); 1 is even. */
  readonly tailing: number;
  /** Relative amount, linear in substance as far as the photo allows, >= 0, from the light that shows the spot best. */
  readonly amount: number;
  /** Standard uncertainty of `amount`. */
  readonly amountSd: number;
  /** Probability that there is a spot here at all, 0..1. */
  readonly confidence: number;
  readonly flags: readonly SpotFlag[];
  /** One entry per photo of the plate, in the order of `PlateReading.photos`. */
  readonly responses: readonly SpotResponse[];
  /** The lights under which the spot shows. */
  readonly lights: readonly Light[];
}

export interface Lane {
  /** 1 is the leftmost. */
  readonly index: number;
  /** As the run file says ("crude", "7"), or the number of the fraction it is taken to be. */
  readonly label: string;
  readonly fraction: number | null;
  /** Centre at the origin, as a fraction of the plate's width. */
  readonly x: number;
  /** Sideways drift: x at height y is x + drift * (origin - y), both plate fractions. */
  readonly drift: number;
  readonly spots: readonly Spot[];
  /** Smallest amount that would have been found here, per photo of the plate, in the unit of `SpotResponse.amount`. */
  readonly detectionLimit: readonly number[];
}

/** One photo of a plate. */
export interface PlatePhoto {
  readonly file: string;
  readonly light: Light;
  readonly stain: string | null;
  /** Corners in pixels of the upright original, as this photo shows the plate. */
  readonly corners: Quad;
  readonly quality: PhotoQuality;
}

/** One physical plate, read. */
export interface PlateReading {
  readonly id: string;
  readonly photos: readonly PlatePhoto[];
  /** Height over width of the plate. */
  readonly aspect: number;
  readonly origin: MigrationLine;
  readonly front: MigrationLine;
  /** Probability that both lie so nearly right that spots are read right, all plates of the run taken together. */
  readonly linesSure: number;
  readonly lanes: readonly Lane[];
}

/** Which lane of which plate; how elution and reports point at evidence. */
export interface LaneRef {
  readonly plate: string;
  readonly lane: number;
}
