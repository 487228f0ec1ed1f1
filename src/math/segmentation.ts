/** One stretch of neighbours, positions `from` to `to` inclusive, and the label it got. */
export interface Segment {
  readonly from: number;
  readonly to: number;
  readonly label: number;
}

/** The cheapest cutting of a row of `n` positions into labelled stretches. */
export interface Segmentation {
  readonly cost: number;
  readonly segments: readonly Segment[];
}

/**
 * Cuts positions 0 … n-1 into stretches of neighbours, each with one of `labels` labels, so that
 * sum over positions of `cost(position, label)` plus `perSegment` for each stretch plus `seam(position, label)` for each
 * pair (position - 1, position) kept inside one stretch is smallest. Stretches of equal label may touch.
 * Costs may be Infinity (forbidden). Ties go to the lower label, then to the longer stretch.
 * Exact dynamic programme (Bellman 1957), O(n x labels).
 */
export function cheapestSegmentation(
  n: number,
  labels: number,
  cost: (position: number, label: number) => number,
  perSegment: number,
  seam: (position: number, label: number) => number = () => 0,
): Segmentation {
  if (n === 0) return { cost: 0, segments: [] };
  const total = new Float64Array(n * labels);
  const joined = new Uint8Array(n * labels);
  const before = new Int32Array(n);
  let best = 0;
  for (let i = 0; i < n; i++) {
    const bestBefore = i === 0 ? 0 : total[(i - 1) * labels + best];
    before[i] = best;
    for (let l = 0; l < labels; l++) {
      const fresh = bestBefore + perSegment;
      const on = i === 0 ? Number.POSITIVE_INFINITY : total[(i - 1) * labels + l] + seam(i, l);
      joined[i * labels + l] = on <= fresh ? 1 : 0;
      total[i * labels + l] = Math.min(on, fresh) + cost(i, l);
    }
    best = 0;
    for (let l = 1; l < labels; l++) if (total[i * labels + l] < total[i * labels + best]) best = l;
  }
  const segments: Segment[] = [];
  let label = best;
  let to = n - 1;
  for (let i = n - 1; i >= 0; i--) {
    if (joined[i * labels + label] === 1) continue;
    segments.push({ from: i, to, label });
    to = i - 1;
    label = before[i];
  }
  return { cost: total[(n - 1) * labels + best], segments: segments.reverse() };
}
