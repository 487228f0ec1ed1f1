import { type Act, type JournalLine, RESULT_SCHEMA, type Result, type TubeState } from "../../src/model/index.ts";

/** Two components of an invented chalcone column, by letter. */
const RF: Readonly<Record<string, number>> = { A: 0.55, B: 0.37 };

/**
 * A result drawn in letters, a tube each: A or B clean, x both, "." nothing; suggested pools are runs of equal letters.
 */
export function drawnResult(drawing: string): Result {
  const letters = [...drawing];
  const stateOf = (c: string): TubeState => (c === "." ? "empty" : c === "x" ? "mixed" : "clean");
  const composition = (c: string): Record<string, number> =>
    c === "." ? {} : c === "x" ? { A: 0.6, B: 0.4 } : { [c]: 1 };
  const pools: { id: string; fractions: number[]; letter: string }[] = [];
  letters.forEach((letter, i) => {
    const last = pools.at(-1);
    if (last?.letter === letter) last.fractions.push(i + 1);
    else pools.push({ id: String(pools.length + 1), fractions: [i + 1], letter });
  });
  return {
    schema: RESULT_SCHEMA,
    run: "chalcone",
    photos: [
      {
        ...{ file: "p1.jpg", status: "read", reason: null, light: "uv254", plate: "P1", plates: ["P1"], quality: null },
        ...{ width: 900, height: 1200, corners: [] },
      },
    ],
    plates: [
      {
        ...{ id: "P1", photos: ["p1.jpg"], corners: null, aspect: 1.3 },
        origin: { y: 0.9, source: "found", tilt: 0, bow: 0 },
        front: { y: 0.1, source: "found", tilt: 0, bow: 0 },
        lanes: letters.map((c, i) => ({
          ...{ index: i + 1, label: String(i + 1), fraction: i + 1, x: (i + 1) / (letters.length + 1), drift: 0 },
          spots: Object.keys(composition(c)).map((component) => ({
            ...{ rf: RF[component], rf_sd: 0.004, amount: 100, amount_sd: 2, component, confidence: 0.99, flags: [] },
            ...{ lights: ["uv254" as const], x: (i + 1) / (letters.length + 1), y: 0.9 - 0.8 * RF[component] },
            ...{ width_rf: 0.04, width_x: 0.05, tailing: 1 },
          })),
        })),
      },
    ],
    components: Object.entries(RF).map(([id, rf]) => ({
      ...{ id, rf, rf_sd: 0.004, first: null, last: null, in_reference: false },
    })),
    fractions: letters.map((c, i) => ({
      ...{ number: i + 1, seen: true, composition: composition(c), state: stateOf(c), confidence: 0.95, reason: null },
      odds: { clean: 0, mixed: 0, empty: 0, [stateOf(c)]: 1 },
      pool: pools.find((p) => p.fractions.includes(i + 1))!.id,
    })),
    pools: pools.map(({ id, fractions, letter }) => ({
      ...{ id, fractions, kind: stateOf(letter), components: Object.keys(composition(letter)), confidence: 0.95 },
      ...{
        purity: letter === "." ? { low: 0, mid: 0, high: 0 } : { low: 0.9, mid: 0.95, high: 0.99 },
        volume_ml: 10 * fractions.length,
        reason: "drawn",
      },
    })),
    profiles: Object.keys(RF).map((component) => ({
      component,
      fitted: false,
      points: letters.map((c, i) => {
        const amount = 100 * (composition(c)[component] ?? 0);
        return { fraction: i + 1, amount, sd: 0.1 * amount, measured: amount };
      }),
    })),
    ...{ policies: [], advice: [], warnings: [] },
  };
}

/** Lines of a journal, numbered from 1. */
export function journal(...acts: readonly Act[]): JournalLine[] {
  return acts.map((act, i) => ({
    id: i + 1,
    at: `2026-02-03T10:00:${String(i).padStart(2, "0")}.000Z`,
    on: null,
    act,
  }));
}
