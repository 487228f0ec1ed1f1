/** A stated probability and what came true. */
export interface Forecast {
  /** 0..1 */
  readonly confidence: number;
  readonly right: boolean;
}

/**
 * Expected calibration error over equal-width bins (Naeini, Cooper and Hauskrecht, AAAI 2015; from memory):
 * sum over bins of share times |mean confidence - share right|. 0 for none given.
 */
export function expectedCalibrationError(forecasts: readonly Forecast[], bins = 10): number {
  const sums = Array.from({ length: bins }, () => ({ n: 0, confidence: 0, right: 0 }));
  for (const { confidence, right } of forecasts) {
    const bin = sums[Math.min(bins - 1, Math.floor(confidence * bins))];
    bin.n++;
    bin.confidence += confidence;
    bin.right += right ? 1 : 0;
  }
  return sums.reduce((error, b) => error + Math.abs(b.confidence - b.right) / Math.max(1, forecasts.length), 0);
}

/** Mean squared distance of confidence and outcome (Brier, Monthly Weather Review 1950, 78, 1). Checked against scikit-learn. */
export function brierScore(forecasts: readonly Forecast[]): number {
  const sum = forecasts.reduce((total, { confidence, right }) => total + (confidence - (right ? 1 : 0)) ** 2, 0);
  return sum / Math.max(1, forecasts.length);
}
