import type { Measurement } from "./tailedPeak.ts";

/** Spotted tubes without a component that part two runs of it. */
const PARTING = 2;

/** First and last tube of a stretch that shows a component. */
export interface Run {
  readonly from: number;
  readonly to: number;
}

/**
 * The stretch of tubes that holds most of a component, and the others: carried over, or read in a lane that is not theirs.
 * @param all spotted tubes that tell, rising
 * @returns the tubes but for the strays, and the strays' own stretches
 */
export function mainRun(all: readonly Measurement[]): { points: readonly Measurement[]; strays: readonly Run[] } {
  const runs: (Run & { sum: number })[] = [];
  let without = PARTING;
  for (const { tube, amount } of all) {
    if (amount > 0) {
      const last = runs[runs.length - 1];
      if (without >= PARTING) runs.push({ from: tube, to: tube, sum: amount });
      else runs[runs.length - 1] = { from: last.from, to: tube, sum: last.sum + amount };
      without = 0;
    } else without++;
  }
  const main = runs.reduce((a, b) => (b.sum > a.sum ? b : a), runs[0]);
  const strays = runs.filter((r) => r !== main);
  const stray = ({ tube }: Measurement) => strays.some(({ from, to }) => tube >= from && tube <= to);
  return { points: all.filter((p) => !stray(p)), strays };
}
