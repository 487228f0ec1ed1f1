import { Matrix, solve } from "ml-matrix";

/** One example: features (the first is 1), and whether it is what is looked for. */
export interface Example {
  readonly x: readonly number[];
  readonly y: boolean;
}

const ROUNDS = 40;

export function logisticProbability(weights: readonly number[], x: readonly number[]): number {
  const logit = x.reduce((sum, v, i) => sum + v * weights[i], 0);
  return 1 / (1 + Math.exp(-logit));
}

/** Mean and deviation of each feature; a constant one (the intercept) keeps its value. */
function scales(examples: readonly Example[]): { mean: number; sd: number }[] {
  return examples[0].x.map((_, i) => {
    const values = examples.map((e) => e.x[i]);
    const mean = values.reduce((a, b) => a + b, 0) / values.length;
    const sd = Math.sqrt(values.reduce((s, v) => s + (v - mean) ** 2, 0) / values.length);
    return i === 0 || sd < 1e-9 ? { mean: 0, sd: 1 } : { mean, sd };
  });
}

/**
 * Weights of a logistic regression by iteratively reweighted least squares (McCullagh and Nelder, Generalized Linear
 * Models, 1989), with a ridge on the standardised features, not on the intercept. The same as scikit-learn's
 * `LogisticRegression(C=1/ridge)` on features out of its `StandardScaler`, turned back to the features as given.
 * @param ridge weight of half the sum of squared standardised weights, > 0
 * @throws RangeError where there is no example
 */
export function fitLogistic(examples: readonly Example[], ridge: number): number[] {
  if (examples.length === 0) throw new RangeError("no example to fit");
  const scale = scales(examples);
  const n = scale.length;
  const z = examples.map(({ x }) => x.map((v, i) => (v - scale[i].mean) / scale[i].sd));
  const weights = new Array<number>(n).fill(0);
  for (let round = 0; round < ROUNDS; round++) {
    const hessian = Matrix.zeros(n, n);
    const gradient = new Array<number>(n).fill(0);
    z.forEach((x, k) => {
      const p = logisticProbability(weights, x);
      const curvature = p * (1 - p);
      for (let i = 0; i < n; i++) {
        gradient[i] += ((examples[k].y ? 1 : 0) - p) * x[i];
        for (let j = 0; j <= i; j++) hessian.set(i, j, hessian.get(i, j) + curvature * x[i] * x[j]);
      }
    });
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < i; j++) hessian.set(j, i, hessian.get(i, j));
      const held = i === 0 ? 1e-9 : ridge;
      gradient[i] -= held * weights[i];
      hessian.set(i, i, hessian.get(i, i) + held);
    }
    const step = solve(hessian, Matrix.columnVector(gradient)).to1DArray();
    for (let i = 0; i < n; i++) weights[i] += Math.max(-3, Math.min(3, step[i]));
    if (Math.max(...step.map(Math.abs)) < 1e-8) break;
  }
  const given = weights.map((w, i) => w / scale[i].sd);
  given[0] -= given.reduce((sum, w, i) => (i === 0 ? sum : sum + w * scale[i].mean), 0);
  return given;
}
