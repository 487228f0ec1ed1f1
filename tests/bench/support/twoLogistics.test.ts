import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../src/math/random.ts";
import { fitTwofold, type TwofoldExample, twofoldProbability } from "./twoLogistics.ts";

describe("fitTwofold", () => {
  it("finds the weights that the examples were drawn with", () => {
    const random = seededRandom(5);
    const planted = { a: [0.5, 1.4], b: [2, -3] };
    const examples: TwofoldExample[] = Array.from({ length: 20000 }, () => {
      const e = { a: [1, 6 * random() - 2], b: [1, random() < 0.3 ? 1 : 0] };
      return { ...e, y: random() < twofoldProbability(planted, e) };
    });
    const { a, b } = fitTwofold(examples, 0.01);
    [...planted.a, ...planted.b].forEach((w, i) => {
      expect(Math.abs([...a, ...b][i] - w), `weight ${i}`).toBeLessThan(0.25);
    });
    const told = examples.reduce((sum, e) => sum + twofoldProbability({ a, b }, e), 0);
    expect(told).toBeCloseTo(examples.filter((e) => e.y).length, -1);
  });

  it("stays near the weights that it is drawn to, the nearer the more it is", () => {
    const random = seededRandom(6);
    const planted = { a: [0.5, 0.8], b: [2, -1] };
    const examples: TwofoldExample[] = Array.from({ length: 2000 }, () => {
      const e = { a: [1, 4 * random() - 2], b: [1, random()] };
      return { ...e, y: random() < twofoldProbability(planted, e) };
    });
    const home = { a: [1, 2], b: [1, -1] };
    const off = (ridge: number) => Math.abs(fitTwofold(examples, ridge, home).a[1] - home.a[1]);
    expect(off(1e5)).toBeLessThan(0.01);
    expect(off(1e5)).toBeLessThan(off(30));
    expect(off(30)).toBeLessThan(off(0.01));
  });
});
