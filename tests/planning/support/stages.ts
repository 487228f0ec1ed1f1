import type { ColumnStep } from "../../../src/model/index.ts";

export interface StageRun {
  /** Mean volume at which the substance leaves, mL. */
  readonly meanMl: number;
  readonly sdMl: number;
  /** Share that left by the end of each transfer. */
  readonly left: readonly number[];
  readonly mlPerTransfer: number;
}

/**
 * A column as a row of equilibrium stages (Craig's countercurrent distribution): in each transfer the mobile phase of
 * every stage moves on by one, then every stage finds its equilibrium again: the share R = Rf of what it holds moves,
 * 1 - R stays. Mobile phase remembers which eluent it is, so a change of eluent travels down the column. Shares no
 * formula with src/planning.
 */
export function runStages(component: string, steps: readonly ColumnStep[], holdUpMl: number, stages: number): StageRun {
  const ml = holdUpMl / stages;
  const mobile = new Float64Array(stages);
  const fixed = new Float64Array(stages);
  const rf = new Float64Array(stages).fill(steps[0].rf[component]);
  mobile[0] = rf[0];
  fixed[0] = 1 - rf[0];
  const left: number[] = [];
  let out = 0;
  let first = 0;
  let second = 0;
  for (let transfer = 1; out < 0.999999 && transfer < 400 * stages; transfer++) {
    const leaving = mobile[stages - 1];
    for (let s = stages - 1; s > 0; s--) {
      mobile[s] = mobile[s - 1];
      rf[s] = rf[s - 1];
    }
    mobile[0] = 0;
    const poured = (transfer - 1) * ml;
    rf[0] = steps.filter((step) => step.fromMl <= poured).at(-1)!.rf[component];
    for (let s = 0; s < stages; s++) {
      const all = mobile[s] + fixed[s];
      mobile[s] = rf[s] * all;
      fixed[s] = (1 - rf[s]) * all;
    }
    const volume = transfer * ml;
    out += leaving;
    first += leaving * volume;
    second += leaving * volume * volume;
    left.push(out);
  }
  const meanMl = first / out;
  return { meanMl, sdMl: Math.sqrt(second / out - meanMl * meanMl), left, mlPerTransfer: ml };
}
