import type { ScoutLane, ScoutSpot, ScoutTrial } from "../../../src/model/index.ts";
import { parseEluent } from "../../../src/planning/index.ts";

/** ln k = a - n ln(share of the strong solvent): a substance of an invented chalcone preparation. */
export interface Invented {
  readonly name: string;
  readonly a: number;
  readonly n: number;
  readonly amount: number;
}

export const KETONE: Invented = { name: "ketone", a: -1.6, n: 1.1, amount: 0.2 };
export const CHALCONE: Invented = { name: "chalcone", a: -1.55, n: 1.4, amount: 0.7 };
export const ALDOL: Invented = { name: "aldol", a: 0.1, n: 1.6, amount: 0.1 };

export function rfOf(substance: Invented, share: number): number {
  return 1 / (1 + Math.exp(substance.a - substance.n * Math.log(share)));
}

export const spot = (rf: number, amount: number, more: Partial<ScoutSpot> = {}): ScoutSpot => ({
  rf,
  rfSd: 0.01,
  widthRf: 0.05,
  tailing: 1.1,
  amount,
  ...more,
});

/** Ethyl acetate in hexane: a crude lane, and a lane of the chalcone itself where asked for. */
export function hexaneTrial(percent: number, substances: readonly Invented[], reference = false): ScoutTrial {
  const share = percent / 100;
  const plate = `p${percent}`;
  const crude = substances.map((s) => spot(rfOf(s, share), s.amount));
  const lanes: ScoutLane[] = [{ plate, lane: 1, label: "crude", spots: crude }];
  if (reference) lanes.push({ plate, lane: 2, label: "chalcone", spots: [spot(rfOf(CHALCONE, share), 1)] });
  return { eluent: parseEluent(`${percent} % ethyl acetate in hexane`), lanes };
}
