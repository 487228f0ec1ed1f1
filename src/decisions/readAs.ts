import type { DecidedPool, HeldComponent, Result, TubeState } from "../model/index.ts";

/** What the plates say of some tubes taken together. */
export interface ReadAs {
  readonly kind: TubeState;
  /** Letters of the reading: the one of a clean pool; of a mixed one all with a share worth naming, most first. */
  readonly components: readonly string[];
}

/** The part of a result that tells what tubes hold. */
export type TubesRead = Pick<Result, "fractions" | "pools" | "profiles" | "components">;

/** Shares under this are not named as part of a pool. */
const NAMED_SHARE = 0.02;

/**
 * What a pool of these tubes would be. Just the tubes of a suggested pool are what the suggestion says; else a pool is
 * mixed as soon as one of its tubes is, or two are clean in different components; clean where all that show anything
 * show the same; empty where none shows anything. Tubes that the reading does not know count for nothing.
 */
export function readAs(read: TubesRead, tubes: readonly number[]): ReadAs {
  const inside = new Set(tubes);
  const same = read.pools.find((p) => p.fractions.length === inside.size && p.fractions.every((n) => inside.has(n)));
  if (same) return { kind: same.kind, components: same.components };
  const members = read.fractions.filter((f) => inside.has(f.number));
  const shown = members.filter((f) => f.state !== "empty");
  const mains = new Set(shown.map((f) => mainOf(f.composition)));
  if (shown.length === 0) return { kind: "empty", components: [] };
  const [main] = mains;
  if (shown.every((f) => f.state === "clean") && mains.size === 1)
    return { kind: "clean", components: main === null ? [] : [main] };
  return { kind: "mixed", components: held(read, inside) };
}

/** The component with the largest share, or null of nothing. */
export function mainOf(composition: Readonly<Record<string, number>>): string | null {
  let best: string | null = null;
  for (const [id, share] of Object.entries(composition)) if (best === null || share > composition[best]) best = id;
  return best;
}

function held(read: TubesRead, inside: ReadonlySet<number>): string[] {
  const shown = new Set(
    read.fractions.flatMap((f) => (inside.has(f.number) && f.state !== "empty" ? Object.keys(f.composition) : [])),
  );
  const amounts = read.profiles
    .filter((p) => shown.has(p.component))
    .map((p) => ({
      id: p.component,
      amount: p.points.reduce((sum, q) => sum + (inside.has(q.fraction) ? q.amount : 0), 0),
    }))
    .sort((a, b) => b.amount - a.amount || (a.id < b.id ? -1 : 1));
  const total = amounts.reduce((sum, a) => sum + a.amount, 0);
  return amounts.filter((a, i) => i < 2 || a.amount > NAMED_SHARE * total).map((a) => a.id);
}

/** A pool of these tubes under a name, with what the plates say of it now. */
export function poolOf(read: TubesRead, name: string, fractions: readonly number[], accepted: boolean): DecidedPool {
  const { kind, components } = readAs(read, fractions);
  const holds = components.map((component): HeldComponent => {
    const rf = read.components.find((c) => c.id === component)?.rf ?? 0;
    return { component, rf };
  });
  return { name, fractions, kind, holds, accepted };
}
