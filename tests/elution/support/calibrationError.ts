export interface Judged {
  readonly confidence: number;
  readonly right: boolean;
}

export interface Bin {
  readonly count: number;
  readonly confidence: number;
  readonly right: number;
}

/** Equal-width bins of confidence from 0 to 1; empty ones have count 0. */
export function reliabilityBins(judged: readonly Judged[], bins = 10): Bin[] {
  return Array.from({ length: bins }, (_, b) => {
    const members = judged.filter((j) => Math.min(bins - 1, Math.floor(j.confidence * bins)) === b);
    const count = members.length;
    const mean = (f: (j: Judged) => number) => (count > 0 ? members.reduce((s, j) => s + f(j), 0) / count : 0);
    return { count, confidence: mean((j) => j.confidence), right: mean((j) => (j.right ? 1 : 0)) };
  });
}

/** Expected calibration error: gap between confidence and share right, averaged over bins by their members. */
export function calibrationError(judged: readonly Judged[], bins = 10): number {
  if (judged.length === 0) return 0;
  return (
    reliabilityBins(judged, bins).reduce((s, b) => s + b.count * Math.abs(b.confidence - b.right), 0) / judged.length
  );
}

/** Mean squared distance of confidence from what came true (Brier 1950). */
export function brierScore(judged: readonly Judged[]): number {
  return judged.reduce((s, j) => s + (j.confidence - (j.right ? 1 : 0)) ** 2, 0) / Math.max(1, judged.length);
}
