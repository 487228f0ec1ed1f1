/** Constants of a beta calibration, a and b >= 0: log odds = a ln p - b ln(1 - p) + c. a = b = 1, c = 0 changes nothing. */
export interface CalibrationMap {
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

/** How a misread plate gives itself away. */
export interface ReadingSigns {
  /** Scatter of amounts about their peaks, log scale, of the component where it is largest. */
  readonly scatter: number;
  /** Mean chance that what was taken for a spot of this plate is none. */
  readonly doubt: number;
  /** Share of its spots that stand for no component. */
  readonly unexplained: number;
  /** How blurred its photos are: width of an edge in thousandths of the plate's width, natural logarithm. */
  readonly blur: number;
  /** How faint its spots are: natural logarithm of 150 over their median contrast-to-noise. */
  readonly faintness: number;
  /** Chance that origin or front lie so far off that spots are read wrong, as its reading says. */
  readonly linesWrong: number;
}

/** Log odds that a plate on right lines was misread: base + the signs, each by its weight. */
export interface MisreadMap {
  readonly base: number;
  readonly perScatter: number;
  readonly perDoubt: number;
  readonly perUnexplained: number;
  readonly perBlur: number;
  readonly perFaintness: number;
}
