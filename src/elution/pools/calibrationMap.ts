/** Constants of a beta calibration, a and b >= 0: log odds = a ln p - b ln(1 - p) + c. a = b = 1, c = 0 changes nothing. */
export interface CalibrationMap {
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

/** Log odds that plates were misread: base + perScatter x scatter of the amounts about their peaks (log). */
export interface MisreadMap {
  readonly base: number;
  readonly perScatter: number;
}
