/** What the confidence of a spot is judged by. */
export interface SpotFeatures {
  /** Height over the noise of the lane's profile. */
  readonly significance: number;
  /** Peak density or relative emission. */
  readonly height: number;
  /** Share of the core that is filled, 0..1. */
  readonly fill: number;
  /** Distance from the lane's centre, in pitches. */
  readonly offset: number;
  /** Full width at half maximum across, in pitches. */
  readonly width: number;
  /** Standard deviation along the lane, in Rf. */
  readonly sigma: number;
  /** Number of photos of the plate that show it. */
  readonly photos: number;
  readonly rf: number;
}

/** Probability that a candidate is a spot, 0..1: a logistic model of its features. */
export function spotConfidence(f: SpotFeatures): number {
  const logit =
    -3.2 +
    2.0 * Math.log(Math.max(f.significance, 1) / 3) +
    4 * (f.fill - 0.5) -
    6 * Math.max(0, f.offset - 0.15) -
    8 * Math.max(0, 0.22 - f.width) +
    1.0 * (f.photos - 1);
  return 1 / (1 + Math.exp(-logit));
}
