import { WEIGHTS } from "./confidenceWeights.ts";

/** What a candidate is judged by at the first look, before the rest of the plate is known. */
export interface SpotFeatures {
  /** Height over the noise of the lane's profile at that Rf. */
  readonly significance: number;
  /** Peak density or relative emission. */
  readonly height: number;
  /** Share of the core that is filled, 0..1. */
  readonly fill: number;
  /** Distance from the lane's centre, in pitches. */
  readonly offset: number;
  /** Full width at half maximum across, in pitches. */
  readonly width: number;
  /** Width along the lane over what is typical of the plate, natural logarithm. */
  readonly stretch: number;
  /** Number of photos of the plate that show it. */
  readonly photos: number;
  /** Significance of the clearest candidate at the same Rf in the two neighbouring lanes, 0 where there is none. */
  readonly beside: number;
  /** How much a taller peak beside it in the lane overshadows it: ln(height ratio) times nearness, 0 where none is near. */
  readonly shade: number;
  /** True at the origin where most lanes show much the same there: marks, not residues. */
  readonly marked: boolean;
  /** At the origin, whether a pencil mark stands there, and the share of the lanes that have one. */
  readonly pencil: { readonly here: boolean; readonly share: number };
  readonly rf: number;
}

/** The features as the logistic model takes them, in the order of `WEIGHTS`. */
export function featureVector(f: SpotFeatures): number[] {
  const z = Math.log(Math.max(f.significance, 1));
  const outshone = Math.max(0, Math.log((f.beside + 1) / Math.max(f.significance, 1)) - 1.5);
  const atOrigin = Math.max(0, 1 - Math.abs(f.rf) / 0.04);
  return [
    1,
    z,
    Math.max(0, z - 2.3),
    Math.log(Math.max(f.height, 1e-3)),
    f.fill,
    Math.max(0, f.offset - 0.08),
    Math.max(0, 0.3 - f.width),
    Math.max(0, f.width - 0.75),
    Math.max(0, f.stretch),
    Math.max(0, -f.stretch),
    f.photos > 1 ? 1 : 0,
    Math.log(1 + f.beside),
    f.shade,
    // The halo of a strong neighbour is wide and weak.
    outshone,
    outshone * Math.max(0, f.width - 0.5),
    atOrigin,
    // Ticks and crosses are narrower than what stays behind of a sample.
    atOrigin * Math.max(0, 0.4 - f.width),
    f.marked ? 1 : 0,
    // A line or a band across the lanes is wide and as strong beside.
    f.beside > 0.5 * f.significance ? Math.max(0, f.width - 0.9) : 0,
    f.pencil.here ? atOrigin : 0,
    atOrigin * f.pencil.share,
    Math.max(0, 1 - Math.abs(1 - f.rf) / 0.06),
  ];
}

/** Probability that a candidate is a spot, 0..1, as it looks by itself: what it counts for beside others. */
export function firstConfidence(f: SpotFeatures): number {
  const x = featureVector(f);
  let logit = 0;
  for (let i = 0; i < x.length; i++) logit += WEIGHTS[i] * x[i];
  return 1 / (1 + Math.exp(-logit));
}
