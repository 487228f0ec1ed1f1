import type { Lattice } from "./lattice.ts";
import {
  byMarks,
  bySpots,
  gained,
  lay,
  MOST_LANES,
  mostGained,
  OFTEN,
  type Sums,
  sumUp,
  type Witness,
  witness,
} from "./likelihood.ts";
import type { LaneSigns } from "./signs.ts";

/** Pitches that come into question, as shares of the width: 20 lanes on a wide plate to three on a narrow one. */
const PITCH = { from: 0.04, to: 0.42, step: 1.02 };
/** Many told lanes may stand nearer to each other on a wide plate: they take up this share of the width at least. */
const TAKEN_UP = 0.5;
const PHASES = 12;
/** Ways that lanes may lean (sideways over up), and how far they usually do. */
const LEANS = [-0.05, -0.025, 0, 0.025, 0.05];
const USUAL_LEAN = 0.03;
/** Plates are five to ten centimetres high and lanes hardly nearer than five millimetres: pitch over height. */
const CLOSE = { from: 0.05, per: 0.008 };
/** Neighbouring spots hardly touch: their width at half height over the pitch. */
const TOUCHING = { from: 0.55, per: 0.12, most: 8 };
/** Margins in pitches as people leave them, and what it takes to leave others. */
const MARGIN = { low: 0.48, perLow: 0.12, high: 1.4, perHigh: 0.3, most: 4, more: 0.5 };
/**
 * Margins are alike within this spread, or one side has room to spare: on few plates, and seldom much. The wider both
 * are, the less the plate was cut to its lanes, and the less alike they need be. Half a wide plate may stay empty.
 */
const SPARE = { spread: 0.25, most: 4, usual: 0.8, per: 0.5, atMost: 8 };

/** Evenly spaced lanes, and the way they lean. */
export interface LeaningLattice extends Lattice {
  readonly lean: number;
}

/** Signs of one kind, and how often lanes have such. */
interface Marks {
  readonly row: Witness;
  readonly often: number;
}

/** Signs of spots, if lanes lean so much. */
interface Leaning {
  readonly lean: number;
  readonly spots: Witness;
}

interface Trial {
  readonly index: number;
  readonly lean: number;
  readonly spots: Witness;
  readonly pitch: number;
  readonly phase: number;
  /** What speaks against it before looking at margins and bare lanes. */
  readonly cost: number;
  /** Its score is not above this. */
  readonly bound: number;
}

/**
 * The evenly spaced lanes that most likely made what the plate shows. A lattice's score is its log-likelihood ratio
 * against no lanes: signs by lanes or anywhere, lanes that show spots or marks and that do not, margins, lean.
 * @param width and height of the plate in pixels
 * @param told how many lanes there are, or null
 * @returns null where too little is seen
 */
export function countLanes(
  signs: LaneSigns,
  width: number,
  height: number,
  told: number | null,
): LeaningLattice | null {
  const marks = [
    { row: signs.line, often: OFTEN.below },
    { row: signs.foot, often: OFTEN.below },
    { row: signs.head, often: OFTEN.above },
  ].flatMap(({ row, often }) => (row.length > 1 ? [{ row: witness(row), often }] : []));
  const leaning = LEANS.map((lean) => ({ lean, spots: witness(signs.spots(lean)) }));
  if (marks.length === 0 && leaning.every(({ spots }) => spots.xs.length < 2)) return null;
  const { bounds, trial } = trials(latticesOf(width, height, signs.spotWidth, told), leaning, marks, width);
  const first = bounds.length > 0 ? trial(highest(bounds)) : null;
  let best = first && likeliest(first, marks, width, told, null);
  // What the most promising one scores leaves few of the thousands.
  const others: Trial[] = [];
  const least = best?.score ?? Number.NEGATIVE_INFINITY;
  for (let i = 0; i < bounds.length; i++) if (bounds[i] >= least && i !== first?.index) others.push(trial(i));
  for (const one of others.sort((a, b) => b.bound - a.bound)) {
    if (best && one.bound < best.score) break;
    best = likeliest(one, marks, width, told, best) ?? best;
  }
  return best;
}

/** The least pitch that comes into question, as a share of the width; never one that is too close for the plate's height. */
function leastPitch(width: number, height: number, told: number | null): number {
  if (told === null) return PITCH.from;
  return Math.min(PITCH.from, Math.max(TAKEN_UP / told, (CLOSE.from * height) / width));
}

/** Where the first of the highest is. */
function highest(values: Float64Array): number {
  let at = 0;
  for (let i = 1; i < values.length; i++) if (values[i] > values[at]) at = i;
  return at;
}

/** Evenly spaced sites over the whole plate, whichever of them are lanes. */
interface Sites {
  readonly pitch: number;
  readonly phase: number;
  readonly count: number;
  /** What speaks against lanes so near to each other. */
  readonly close: number;
}

/** The bound of every lean of every pitch and phase, and the trial that each belongs to. */
function trials(
  lattices: readonly Sites[],
  leaning: readonly Leaning[],
  marks: readonly Marks[],
  width: number,
): { readonly bounds: Float64Array; readonly trial: (index: number) => Trial } {
  const bounds = new Float64Array(lattices.length * leaning.length);
  for (let i = 0; i < lattices.length; i++) boundLeans(lattices[i], leaning, marks, width, bounds, i * leaning.length);
  const trial = (index: number): Trial => {
    const { lean, spots } = leaning[index % leaning.length];
    const { pitch, phase, close } = lattices[Math.floor(index / leaning.length)];
    return { index, lean, spots, pitch, phase, cost: costOf(close, lean), bound: bounds[index] };
  };
  return { bounds, trial };
}

/** Bounds of one lattice, for each lean; a function of its own, which the engine compiles early. */
function boundLeans(
  { pitch, phase, count, close }: Sites,
  leaning: readonly Leaning[],
  marks: readonly Marks[],
  width: number,
  bounds: Float64Array,
  o: number,
): void {
  let marked = 0;
  for (let i = 0; i < marks.length; i++) marked += mostGained(marks[i].row, pitch, phase, width, count);
  for (let i = 0; i < leaning.length; i++) {
    const { lean, spots } = leaning[i];
    bounds[o + i] = marked + mostGained(spots, pitch, phase, width, count) - costOf(close, lean);
  }
}

/** Every pitch from the least one on and every phase with room for the lanes told, or two. */
function latticesOf(width: number, height: number, spotWidth: number, told: number | null): Sites[] {
  const lattices: Sites[] = [];
  for (let share = leastPitch(width, height, told); share < PITCH.to; share *= PITCH.step) {
    const pitch = share * width;
    const close = tightness(pitch, height, spotWidth);
    for (let k = 0; k < PHASES; k++) {
      const phase = (k / PHASES) * pitch;
      const count = sitesFrom(phase, pitch, width);
      if (count >= (told ?? 2)) lattices.push({ pitch, phase, count, close });
    }
  }
  return lattices;
}

function costOf(close: number, lean: number): number {
  return close + 0.5 * (lean / USUAL_LEAN) ** 2;
}

/** What speaks against lanes so near to each other. */
function tightness(pitch: number, height: number, spotWidth: number): number {
  const close = Math.max(0, (CLOSE.from - pitch / height) / CLOSE.per) ** 2;
  const touching = Math.max(0, (spotWidth / pitch - TOUCHING.from) / TOUCHING.per) ** 2;
  return close + Math.min(TOUCHING.most, touching);
}

function sitesFrom(phase: number, pitch: number, width: number): number {
  return Math.min(MOST_LANES, Math.floor((width - phase) / pitch) + 1);
}

/** The likeliest run of neighbouring sites of a lattice, if it is likelier than the best so far. */
function likeliest(
  { lean, spots, pitch, phase, cost }: Trial,
  marks: readonly Marks[],
  width: number,
  told: number | null,
  sofar: LeaningLattice | null,
): LeaningLattice | null {
  const sites = new Float64Array(sitesFrom(phase, pitch, width));
  const sums = (w: Witness): Sums => {
    lay(w, pitch, phase, width, sites);
    return sumUp(sites);
  };
  const spotSums = sums(spots);
  const markSums = marks.map(({ row, often }) => ({ sum: sums(row), often }));
  let best: LeaningLattice | null = null;
  let floor = sofar?.score ?? Number.NEGATIVE_INFINITY;
  for (let from = 0; from < sites.length; from++) {
    const least = from + (told ?? 2) - 1;
    const most = told === null ? sites.length - 1 : Math.min(least, sites.length - 1);
    for (let to = least; to <= most; to++) {
      const against = cost + marginCost(phase / pitch + from, (width - phase) / pitch - to);
      if (gained(spotSums, from, to) + markSums.reduce((g, m) => g + gained(m.sum, from, to), 0) - against <= floor)
        continue;
      const score =
        bySpots(spotSums, from, to) + markSums.reduce((g, m) => g + byMarks(m.sum, from, to, m.often), 0) - against;
      if (score <= floor) continue;
      floor = score;
      best = { count: to - from + 1, first: phase + from * pitch, pitch, score, lean };
    }
  }
  return best;
}

function marginCost(left: number, right: number): number {
  const wide = Math.max(0, Math.min(left, right) - MARGIN.high);
  const spare = Math.abs(right - left) / (1 + wide);
  const unlike = Math.min(SPARE.most, 0.5 * (spare / SPARE.spread) ** 2);
  const far = Math.min(MARGIN.most, wide / MARGIN.perHigh) + MARGIN.more * wide;
  return (
    tooNear(left) + tooNear(right) + far + unlike + Math.min(SPARE.atMost, Math.max(0, spare - SPARE.usual) / SPARE.per)
  );
}

function tooNear(margin: number): number {
  return (Math.max(0, MARGIN.low - margin) / MARGIN.perLow) ** 2;
}
