/** Constants of a beta calibration, a and b >= 0: log odds = a ln p - b ln(1 - p) + c. a = b = 1, c = 0 changes nothing. */
export interface CalibrationMap {
  readonly a: number;
  readonly b: number;
  readonly c: number;
}
