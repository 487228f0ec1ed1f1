import type { Interval, Light, Policy, TubeState } from "../model/index.ts";

/** Numbers in order as a chemist writes them: "1–3, 7, 9–12". */
export function numberRanges(numbers: readonly number[], dash = "–"): string {
  const sorted = [...numbers].sort((a, b) => a - b);
  const runs: [number, number][] = [];
  for (const n of sorted) {
    const last = runs.at(-1);
    if (last && n - last[1] <= 1) last[1] = n;
    else runs.push([n, n]);
  }
  return runs.map(([a, b]) => (a === b ? String(a) : b === a + 1 ? `${a}, ${b}` : `${a}${dash}${b}`)).join(", ");
}

/** "tube 7" or "tubes 7–9". */
export function tubesInWords(numbers: readonly number[]): string {
  return `${numbers.length === 1 ? "tube" : "tubes"} ${numberRanges(numbers)}`;
}

/** A share 0..1 in percent; never rounded up to certainty or down to nothing. */
export function percent(share: number): string {
  if (!Number.isFinite(share)) return "–";
  if (share > 0.99 && share < 1) return share >= 0.995 ? "> 99 %" : "99 %";
  if (share > 0 && share < 0.005) return "< 1 %";
  return `${Math.round(share * 100)} %`;
}

/** An interval of shares: "97 % (93 to 99)"; what plates show never proves 100 %. */
export function intervalInWords(interval: Interval): string {
  const bare = (share: number) => percent(Math.min(share, 0.999)).replace(" %", "");
  if (interval.low >= 0.995) return percent(0.999);
  return `${bare(interval.mid)} % (${bare(interval.low)} to ${bare(interval.high)})`;
}

/** Rf to two decimals, as it is given (IUPAC Gold Book R05353). */
export function rfInWords(rf: number): string {
  return Number.isFinite(rf) ? rf.toFixed(2) : "–";
}

export function volumeInWords(ml: number | null): string {
  return ml === null ? "" : `${Number(ml.toFixed(1))} mL`;
}

export function lightInWords(light: Light, stain: string | null): string {
  if (stain) return `stained: ${stain}`;
  return light === "uv254" ? "254 nm" : light === "uv365" ? "365 nm" : "white light";
}

export function policyInWords(policy: Policy): string {
  return policy === "purity" ? "Purity first" : policy === "recovery" ? "Recovery first" : "Balance";
}

/** "A", "A + B", or a dash for none. */
export function componentsInWords(components: readonly string[]): string {
  return components.length === 0 ? "–" : components.join(" + ");
}

/** "1 tube", "3 tubes". */
export function count(n: number, one: string, many = `${one}s`): string {
  return `${n} ${n === 1 ? one : many}`;
}

/** Items as a sentence lists them: "a", "a and b", "a, b and c". */
export function listed(items: readonly string[]): string {
  return items.length < 2 ? (items[0] ?? "") : `${items.slice(0, -1).join(", ")} and ${items.at(-1)}`;
}

export function stateInWords(state: TubeState, seen: boolean): string {
  return seen ? state : `${state}, not spotted`;
}
