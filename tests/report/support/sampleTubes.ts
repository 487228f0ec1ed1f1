import { normalDeviate } from "../../../src/math/random.ts";
import type { ElutionProfile, Result, ResultFraction, ResultPool } from "../../../src/model/index.ts";
import { amountAt, LIMIT, SUBSTANCES, type Substance } from "./sampleSubstances.ts";

export function fraction(n: number, tubes: number, seen: boolean): ResultFraction {
  const amounts = SUBSTANCES.map((s) => ({ id: s.id, amount: amountAt(s, n, tubes) })).filter((a) => a.amount >= LIMIT);
  const total = amounts.reduce((sum, a) => sum + a.amount, 0);
  const composition = Object.fromEntries(amounts.map((a) => [a.id, a.amount / total]));
  const main = Math.max(0, ...Object.values(composition));
  const state = amounts.length === 0 ? "empty" : main >= 0.95 ? "clean" : "mixed";
  const near = state !== "empty" && Math.abs(main - 0.95) < 0.03;
  const confidence = (near ? 0.71 : state === "empty" ? 0.97 : 0.96) - (seen ? 0 : 0.2);
  const reason = !seen
    ? "Nobody spotted it; its neighbours suggest this."
    : near
      ? `The second spot is close to the 95 % line (plate lane of tube ${n}).`
      : null;
  return { number: n, seen, composition, state, odds: oddsFor(state, confidence), pool: null, confidence, reason };
}

function oddsFor(state: ResultFraction["state"], p: number): ResultFraction["odds"] {
  const rest = (1 - p) / 2;
  return { clean: rest, mixed: rest, empty: rest, [state]: p };
}

export function poolsOf(fractions: readonly ResultFraction[]): ResultPool[] {
  const heldBy = (f: ResultFraction) =>
    f.state === "clean"
      ? [Object.entries(f.composition).sort((a, b) => b[1] - a[1])[0][0]]
      : f.state === "mixed"
        ? Object.keys(f.composition)
        : [];
  const pools: { -readonly [K in keyof ResultPool]: ResultPool[K] }[] = [];
  let lastHeld = "";
  for (const f of fractions) {
    const held = f.state === "mixed" ? "mixed" : heldBy(f).join();
    const last = pools.at(-1);
    if (last && last.kind === f.state && lastHeld === held) {
      last.fractions = [...last.fractions, f.number];
      last.components = [...new Set([...last.components, ...heldBy(f)])].sort();
      last.volume_ml = last.fractions.length * 10;
      last.confidence = Math.min(last.confidence, f.confidence);
    } else {
      const main = Math.max(0, ...Object.values(f.composition));
      const spread = (1 - main) / 2 + 0.008;
      pools.push({
        id: String(pools.length + 1),
        fractions: [f.number],
        kind: f.state,
        components: heldBy(f),
        purity: { low: Math.max(0, main - spread), mid: main, high: Math.min(1, main + spread) },
        confidence: f.confidence,
        volume_ml: 10,
        reason:
          f.state === "empty"
            ? "No spot under either light."
            : f.state === "clean"
              ? `Only ${heldBy(f)[0]} shows in these lanes; anything else would be below 5 %.`
              : "Two or more components share these lanes; run them again.",
      });
    }
    lastHeld = held;
  }
  return pools;
}

export function profile(
  s: Substance,
  numbers: readonly number[],
  tubes: number,
  spotted: readonly number[],
  uniform: () => number,
): ElutionProfile {
  const points = numbers.map((n) => {
    const amount = amountAt(s, n, tubes);
    const seen = spotted.includes(n);
    const sd = (0.07 * amount + 0.012) * (seen ? 1 : 2.2);
    return {
      fraction: n,
      amount: amount < 0.002 ? 0 : amount,
      sd,
      measured: seen ? Math.max(0, amount + sd * normalDeviate(uniform)) : null,
    };
  });
  return { component: s.id, points, fitted: true };
}

export function policies(pools: readonly ResultPool[]): Result["policies"] {
  const held = pools.map((p) => ({ fractions: p.fractions, kind: p.kind }));
  return [
    {
      policy: "purity",
      pools: held.filter((p) => p.fractions.length > 1),
      purity: { low: 0.975, mid: 0.991, high: 0.997 },
      recovery: { low: 0.74, mid: 0.81, high: 0.87 },
    },
    {
      policy: "balance",
      pools: held,
      purity: { low: 0.961, mid: 0.983, high: 0.992 },
      recovery: { low: 0.84, mid: 0.89, high: 0.93 },
    },
    {
      policy: "recovery",
      pools: held,
      purity: { low: 0.9, mid: 0.94, high: 0.96 },
      recovery: { low: 0.94, mid: 0.97, high: 0.99 },
    },
  ];
}
