import type { LaneTruth, PoolTruth, SpotTruth, TubeTruth } from "../truth.ts";

type State = TubeTruth["state"];

/** Share of the main component from which a tube is called clean (common practice, no source). */
export const CLEAN_SHARE = 0.95;

interface Verdict {
  readonly composition: Readonly<Record<string, number>>;
  readonly state: State;
  readonly main: string | null;
  readonly share: number;
}

/** Shares and state of what a tube shows. */
export function verdictOf(amounts: readonly { readonly component: string; readonly amount: number }[]): Verdict {
  const total = amounts.reduce((sum, a) => sum + a.amount, 0);
  if (total <= 0) return { composition: {}, state: "empty", main: null, share: 1 };
  const composition: Record<string, number> = {};
  for (const { component, amount } of amounts) composition[component] = (composition[component] ?? 0) + amount / total;
  const [main, share] = Object.entries(composition).reduce((best, entry) => (entry[1] > best[1] ? entry : best));
  return { composition, state: share >= CLEAN_SHARE ? "clean" : "mixed", main, share };
}

/** Shown at all, but too faint or too close to a neighbour to be asked for. */
function borderline(spot: SpotTruth): boolean {
  return !spot.mustFind && spot.visibility.some((v) => v.contrast >= 0.015 && v.contrastToNoise >= 3);
}

type Known = SpotTruth & { readonly component: string };
const known = (spot: SpotTruth): spot is Known => spot.component !== null;

/** Truth of each tube: from its lanes where it was spotted, else from what the column gave. */
export function tubeTruths(
  lanes: readonly LaneTruth[],
  inferred: (tube: number) => readonly { component: string; amount: number }[],
  tubes: number,
): TubeTruth[] {
  return Array.from({ length: tubes }, (_, t): TubeTruth => {
    const number = t + 1;
    const lane = lanes.find((l) => l.fraction === number);
    if (!lane) {
      const { composition, state } = verdictOf(inferred(number));
      return { number, seen: false, composition, state, judged: false };
    }
    const spots = lane.spots.filter(known);
    const sure = verdictOf(spots.filter((s) => s.mustFind));
    const perhaps = verdictOf(spots.filter((s) => s.mustFind || borderline(s)));
    const close = sure.state !== "empty" && sure.share >= 0.88 && sure.share <= 0.98;
    const alike = sure.state === perhaps.state && sure.main === perhaps.main;
    return { number, seen: true, composition: sure.composition, state: sure.state, judged: !close && alike };
  });
}

/** Neighbours that hold the same: clean in one component, mixed, or empty. */
export function poolTruths(tubes: readonly TubeTruth[]): PoolTruth[] {
  const keyOf = (tube: TubeTruth) => {
    const main = Object.entries(tube.composition).sort((a, b) => b[1] - a[1])[0]?.[0] ?? "";
    return tube.state === "clean" ? `clean ${main}` : tube.state;
  };
  const pools: { fractions: number[]; kind: State; key: string }[] = [];
  for (const tube of tubes) {
    const key = keyOf(tube);
    const open = pools[pools.length - 1];
    if (open && open.key === key) open.fractions.push(tube.number);
    else pools.push({ fractions: [tube.number], kind: tube.state, key });
  }
  return pools.map(({ fractions, kind }) => ({ fractions, kind }));
}
