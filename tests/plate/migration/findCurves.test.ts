import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../src/math/random.ts";
import { negative, type Stripes, stripeCentre } from "../../../src/plate/migration/blocks.ts";
import { rowAt } from "../../../src/plate/migration/curves.ts";
import { type CurveHit, type CurveSearch, curveSearch, findCurves } from "../../../src/plate/migration/findCurves.ts";

const COUNT = 40;
const HEIGHT = 90;
const MARGIN = 0.03;
const NOISE = 0.5;
/** Heights near the upper end, so that many curves leave the plate. */
const SEARCH = curveSearch({ from: 2, to: 47, margin: MARGIN }, [-9, -6, -3, 0, 3, 6, 9], [-8, -4, 0, 4, 8], COUNT);

/** Noise, and lines at y with their tilt, bow and strength. */
function stripesWith(seed: number, lines: readonly (readonly [number, number, number, number])[]): Stripes {
  const random = seededRandom(seed);
  const data = Float32Array.from({ length: COUNT * HEIGHT }, () => 1.6 * (random() - 0.5));
  for (const [y, tilt, bow, strength] of lines)
    for (let b = 0; b < COUNT; b++) {
      const row = Math.round(rowAt({ y, tilt, bow }, stripeCentre(b, COUNT, MARGIN)));
      for (let r = row - 1; r <= row + 1; r++) if (r >= 0 && r < HEIGHT) data[b * HEIGHT + r] += strength;
    }
  return { count: COUNT, height: HEIGHT, data };
}

type Plain = Pick<CurveHit, "y" | "tilt" | "bow" | "score">;

/** The same search without any bounds. */
function everyCurve(z: Stripes, search: CurveSearch, apart: number, most: number): Plain[] {
  const best: Plain[] = [];
  for (let y = search.from; y <= search.to; y++) {
    let top: Plain | null = null;
    for (const { tilt, bow } of search.curves) {
      let sum = 0;
      for (let b = 0; b < COUNT; b++) {
        const row = y + Math.round(rowAt({ y: 0, tilt, bow }, stripeCentre(b, COUNT, MARGIN)));
        if (row < 0 || row >= HEIGHT) continue;
        sum += Math.fround(Math.max(-1, Math.min(3, z.data[b * HEIGHT + row] / NOISE)));
      }
      if (!top || sum / COUNT > top.score) top = { y, tilt, bow, score: sum / COUNT };
    }
    if (top) best.push(top);
  }
  best.sort((a, b) => b.score - a.score || a.y - b.y);
  const kept: Plain[] = [];
  for (const hit of best) if (kept.length < most && kept.every((k) => Math.abs(k.y - hit.y) >= apart)) kept.push(hit);
  return kept;
}

const plain = (hits: readonly CurveHit[]): Plain[] => hits.map(({ y, tilt, bow, score }) => ({ y, tilt, bow, score }));

describe("lines found with upper bounds", () => {
  const plates = [
    ["noise alone", []],
    ["one line", [[20, 3, 4, 1.2]]],
    [
      "a line that leaves the plate, and a faint one",
      [
        [4, 9, -8, 2],
        [30, 0, 0, 0.5],
      ],
    ],
    [
      "two lines of one strength, all responses clamped",
      [
        [12, 0, 0, 9],
        [33, 0, 0, 9],
      ],
    ],
  ] as const;
  for (const [name, lines] of plates)
    for (const apart of [3, 5, 11])
      it(`are those of the full search: ${name}, ${apart} rows apart`, () => {
        for (let seed = 1; seed <= 5; seed++) {
          const z = stripesWith(seed, lines);
          const how = { apart, most: 4, least: Number.NEGATIVE_INFINITY, sign: 1 } as const;
          expect(plain(findCurves(z, NOISE, SEARCH, how))).toEqual(everyCurve(z, SEARCH, apart, 4));
        }
      });

  it("are those of the full search that are strong enough, where weaker ones are of no use", () => {
    const z = stripesWith(7, plates[2][1]);
    const all = everyCurve(z, SEARCH, 5, 4);
    const least = (all[1].score + all[2].score) / 2;
    expect(plain(findCurves(z, NOISE, SEARCH, { apart: 5, most: 4, least, sign: 1 }))).toEqual(all.slice(0, 2));
  });

  it("are the valleys, turned over", () => {
    const z = stripesWith(3, plates[1][1]);
    const how = { apart: 5, most: 4, least: 0 } as const;
    const ridges = findCurves(z, NOISE, SEARCH, { ...how, sign: 1 });
    expect(ridges.length).toBeGreaterThan(0);
    expect(findCurves(negative(z), NOISE, SEARCH, { ...how, sign: -1 })).toEqual(ridges);
  });

  it("have an even response no higher than their score", () => {
    const hits = findCurves(stripesWith(5, plates[2][1]), NOISE, SEARCH, { apart: 4, most: 6, least: 0, sign: 1 });
    expect(hits.length).toBeGreaterThan(2);
    for (const { even, score } of hits) expect(even).toBeLessThanOrEqual(score + 1e-6);
  });
});
