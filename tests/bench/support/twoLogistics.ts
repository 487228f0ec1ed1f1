import { Matrix, solve } from "ml-matrix";
import { logisticProbability } from "./logistic.ts";

/** An event that needs two things at once, what each is judged by (the first of each is 1), and whether it came true. */
export interface TwofoldExample {
  readonly a: readonly number[];
  readonly b: readonly number[];
  readonly y: boolean;
}

export interface TwofoldWeights {
  readonly a: readonly number[];
  readonly b: readonly number[];
}

const ROUNDS = 200;
const LEAST = 1e-6;

/** Probability that both hold: the product of two logistic models. */
export function twofoldProbability(weights: TwofoldWeights, { a, b }: Pick<TwofoldExample, "a" | "b">): number {
  return logisticProbability(weights.a, a) * logisticProbability(weights.b, b);
}

/**
 * Both models fitted together by Fisher scoring (McCullagh and Nelder, Generalized Linear Models, 1989): the gradient of
 * the likelihood over the expected information, a step halved until the likelihood rises.
 * @param ridge weight of half the sum of squared weights, intercepts not counted, on features scaled to deviation 1
 * @param towards weights that they are drawn to; left out: to none
 */
export function fitTwofold(
  examples: readonly TwofoldExample[],
  ridge: number,
  towards?: TwofoldWeights,
): TwofoldWeights {
  const [na, nb] = [examples[0].a.length, examples[0].b.length];
  const scale = [...deviations(examples.map((e) => e.a)), ...deviations(examples.map((e) => e.b))];
  const z = examples.map((e) => [...e.a, ...e.b].map((v, i) => v / scale[i]));
  const free = (i: number) => i === 0 || i === na;
  const home = towards ? [...towards.a, ...towards.b].map((w, i) => w * scale[i]) : scale.map(() => 0);
  const split = (w: readonly number[]): TwofoldWeights => ({ a: w.slice(0, na), b: w.slice(na) });
  const chances = (w: readonly number[], x: readonly number[]) => {
    const pa = logisticProbability(w.slice(0, na), x.slice(0, na));
    const pb = logisticProbability(w.slice(na), x.slice(na));
    return { pa, pb, p: Math.min(1 - LEAST, Math.max(LEAST, pa * pb)) };
  };
  const worth = (w: readonly number[]) =>
    z.reduce((sum, x, k) => sum + Math.log(examples[k].y ? chances(w, x).p : 1 - chances(w, x).p), 0) -
    (ridge / 2) * w.reduce((sum, v, i) => sum + (free(i) ? 0 : (v - home[i]) ** 2), 0);
  let weights: number[] = Array.from({ length: na + nb }, (_, i) => (free(i) ? 1 : 0));
  let best = worth(weights);
  for (let round = 0; round < ROUNDS; round++) {
    const information = Matrix.zeros(na + nb, na + nb);
    const gradient = weights.map((w, i) => (free(i) ? 0 : -ridge * (w - home[i])));
    z.forEach((x, k) => {
      const { pa, pb, p } = chances(weights, x);
      const slope = x.map((v, i) => v * p * (1 - (i < na ? pa : pb)));
      const spread = p * (1 - p);
      for (let i = 0; i < slope.length; i++) {
        gradient[i] += (slope[i] * ((examples[k].y ? 1 : 0) - p)) / spread;
        for (let j = 0; j < slope.length; j++)
          information.set(i, j, information.get(i, j) + (slope[i] * slope[j]) / spread);
      }
    });
    for (let i = 0; i < weights.length; i++)
      information.set(i, i, information.get(i, i) + (free(i) ? LEAST : ridge + LEAST));
    const step = solve(information, Matrix.columnVector(gradient)).to1DArray();
    let gained = 0;
    for (let share = 1; share > 1e-4; share /= 2) {
      const trial = weights.map((w, i) => w + share * step[i]);
      const value = worth(trial);
      if (value <= best) continue;
      gained = value - best;
      weights = trial;
      best = value;
      break;
    }
    if (gained < 1e-6) break;
  }
  return split(weights.map((w, i) => w / scale[i]));
}

/** Deviation of each feature; a constant keeps its value. */
function deviations(rows: readonly (readonly number[])[]): number[] {
  return rows[0].map((_, i) => {
    const mean = rows.reduce((sum, r) => sum + r[i], 0) / rows.length;
    const sd = Math.sqrt(rows.reduce((sum, r) => sum + (r[i] - mean) ** 2, 0) / rows.length);
    return sd < 1e-9 ? 1 : sd;
  });
}
