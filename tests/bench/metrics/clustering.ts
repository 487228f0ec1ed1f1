/**
 * Adjusted Rand index of two groupings of the same things (Hubert and Arabie, J. Classification 1985, 2, 193):
 * 1 for the same grouping, about 0 for a chance one, below 0 for worse. Checked against scikit-learn.
 * @param a @param b labels, same length; any strings
 */
export function adjustedRand(a: readonly string[], b: readonly string[]): number {
  const pairs = (n: number) => (n * (n - 1)) / 2;
  const count = (keys: readonly string[]) => {
    const counts = new Map<string, number>();
    for (const key of keys) counts.set(key, (counts.get(key) ?? 0) + 1);
    return [...counts.values()].reduce((sum, n) => sum + pairs(n), 0);
  };
  const both = count(a.map((label, i) => `${label}\u0000${b[i]}`));
  const inA = count(a);
  const inB = count(b);
  const all = pairs(a.length);
  const expected = all > 0 ? (inA * inB) / all : 0;
  const most = (inA + inB) / 2;
  return most === expected ? 1 : (both - expected) / (most - expected);
}

/** Pairs of things put together by both, by the truth alone, and by the answer alone. Null: alone. */
export function pairCounts(truth: readonly (string | null)[], answer: readonly (string | null)[]) {
  const counts = { both: 0, onlyTruth: 0, onlyAnswer: 0 };
  for (let i = 0; i < truth.length; i++)
    for (let j = i + 1; j < truth.length; j++) {
      const t = truth[i] !== null && truth[i] === truth[j];
      const s = answer[i] !== null && answer[i] === answer[j];
      if (t && s) counts.both++;
      else if (t) counts.onlyTruth++;
      else if (s) counts.onlyAnswer++;
    }
  return counts;
}
