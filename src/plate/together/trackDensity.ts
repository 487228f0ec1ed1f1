/** A spot of another plate, at the Rf that its plate gives it. */
export interface Shown {
  readonly rf: number;
  readonly tube: number | null;
  readonly label: string;
  /** How much it counts, 0..1: less where it may be dust, or its plate's lines may be wrong. */
  readonly weight: number;
}

type Lane = Pick<Shown, "tube" | "label">;

/** How far the Rf of one substance differs from lane to lane, and from plate to plate where one of them ran otherwise. */
const SD = 0.016;
const STRETCHED_SD = 0.035;
/** Tubes so many apart hold the same with 1/e of the likelihood of neighbours. */
const TUBES = 3;
/** How much a lane of no tube says of a tube, and of such a lane of another name. */
const REFERENCE = 0.6;
/** So much evidence halves the doubt whether others show anything of this lane. */
const DOUBT = 1.2;
/** Spots that nothing of other plates makes one expect. */
const STRAY = 0.2;
/** Spots of Rf below 0 or above 1, by the lines tried. */
const OUTSIDE = 0.02;
/** What says less is left out. */
const LEAST = 0.003;
/** Rf is told in steps, out to so far beyond 0 and 1. */
const STEP = 0.004;
const MARGIN = 0.02;

/**
 * Log density of the Rf of a spot in a lane, as the spots of other plates make one expect it: near those of the neighbouring tubes,
 * and of lanes of the same name.
 * @param stretched share of plates that ran otherwise than the others; left out: none, where lines are as sure as they will be
 */
export function trackDensity(lane: Lane, others: readonly Shown[], stretched = 0): (rf: number) => number {
  const near = others.map((o) => ({ rf: o.rf, weight: o.weight * kinship(lane, o) })).filter((o) => o.weight > LEAST);
  const total = near.reduce((sum, o) => sum + o.weight, 0);
  const share = ((1 - STRAY) * total) / (total + DOUBT);
  const scale = total > 0 ? share / total / (SD * Math.sqrt(2 * Math.PI)) : 0;
  const logDensity = (rf: number) => {
    const density = near.reduce((sum, o) => {
      const bell = (1 - stretched) * Math.exp(-(((rf - o.rf) / SD) ** 2) / 2);
      if (stretched === 0) return sum + o.weight * bell;
      const wide = stretched * (SD / STRETCHED_SD) * Math.exp(-(((rf - o.rf) / STRETCHED_SD) ** 2) / 2);
      return sum + o.weight * (bell + wide);
    }, 0);
    return Math.log(scale * density + 1 - share);
  };
  const steps = Math.round((1 + 2 * MARGIN) / STEP) + 1;
  // Worked out where it is asked for: a lane has few spots.
  const known = new Float64Array(steps).fill(Number.NaN);
  return (rf) => {
    const k = Math.round((rf + MARGIN) / STEP);
    if (!(k >= 0 && k < steps)) return Math.log(OUTSIDE);
    if (Number.isNaN(known[k])) known[k] = logDensity(k * STEP - MARGIN);
    return known[k];
  };
}

/** How much the spots of other lanes say of this one, 0..1: nothing where they show far tubes alone. */
export function saidOf(lane: Lane, others: readonly Shown[]): number {
  const total = others.reduce((sum, o) => sum + o.weight * kinship(lane, o), 0);
  return total / (total + DOUBT);
}

/** How much what one lane shows says of another. */
function kinship(a: Lane, b: Lane): number {
  if (a.tube !== null && b.tube !== null) return Math.exp(-Math.abs(a.tube - b.tube) / TUBES);
  return a.tube === null && b.tube === null && a.label === b.label ? 1 : REFERENCE;
}
