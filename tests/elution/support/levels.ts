/** How badly the plates are run, spotted, photographed and read. Sds unless said otherwise. */
export interface Level {
  readonly name: string;
  /** Scatter of a spot's Rf about its plate's own scale. */
  readonly rfNoise: number;
  readonly plateShift: number;
  readonly plateStretch: number;
  readonly plateBow: number;
  /** Sideways tilt of the plate's scale, in Rf from edge to edge. */
  readonly plateTilt: number;
  /** Log scatter of the volume spotted. */
  readonly spotting: number;
  /** Noise of the ground, in density. */
  readonly ground: number;
  /** Chance that a spot well above the limit is not reported. */
  readonly missed: number;
  /** False spots per lane. */
  readonly falseSpots: number;
  /** Two spots nearer than this many widths are read as one. */
  readonly merge: number;
  readonly closeChance: number;
  /** Chance of a lane that nobody spotted though it was named. */
  readonly forgotten: number;
}

export const LEVELS: readonly Level[] = [
  {
    name: "easy",
    rfNoise: 0.0025,
    plateShift: 0.006,
    plateStretch: 0.015,
    plateBow: 0.006,
    plateTilt: 0.002,
    spotting: 0.12,
    ground: 0.0018,
    missed: 0.01,
    falseSpots: 0.02,
    merge: 0.55,
    closeChance: 0.25,
    forgotten: 0,
  },
  {
    name: "normal",
    rfNoise: 0.0045,
    plateShift: 0.012,
    plateStretch: 0.03,
    plateBow: 0.012,
    plateTilt: 0.004,
    spotting: 0.2,
    ground: 0.003,
    missed: 0.03,
    falseSpots: 0.06,
    merge: 0.7,
    closeChance: 0.3,
    forgotten: 0.002,
  },
  {
    name: "hard",
    rfNoise: 0.007,
    plateShift: 0.018,
    plateStretch: 0.045,
    plateBow: 0.018,
    plateTilt: 0.006,
    spotting: 0.3,
    ground: 0.0045,
    missed: 0.06,
    falseSpots: 0.12,
    merge: 0.8,
    closeChance: 0.35,
    forgotten: 0.006,
  },
];
