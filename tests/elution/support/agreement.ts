/**
 * Adjusted Rand index of two groupings of the same things (Hubert and Arabie 1985): 1 equal, about 0 by chance.
 * 1 where both groupings are trivial. Checked against scikit-learn's `adjusted_rand_score`.
 */
export function adjustedRand(a: readonly (string | number)[], b: readonly (string | number)[]): number {
  const pairs = (n: number) => (n * (n - 1)) / 2;
  const cells = new Map<string, number>();
  const rows = new Map<string | number, number>();
  const columns = new Map<string | number, number>();
  a.forEach((x, i) => {
    const y = b[i];
    cells.set(`${x}|${y}`, (cells.get(`${x}|${y}`) ?? 0) + 1);
    rows.set(x, (rows.get(x) ?? 0) + 1);
    columns.set(y, (columns.get(y) ?? 0) + 1);
  });
  const sum = (m: Map<unknown, number>) => [...m.values()].reduce((s, n) => s + pairs(n), 0);
  const together = sum(cells);
  const expected = (sum(rows) * sum(columns)) / Math.max(1, pairs(a.length));
  const most = 0.5 * (sum(rows) + sum(columns));
  return most === expected ? 1 : (together - expected) / (most - expected);
}
