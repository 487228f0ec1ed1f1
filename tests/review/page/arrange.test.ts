import { describe, expect, it } from "vitest";
import { arrange, nearestGap } from "../../../src/review/page/board/arrange.ts";
import { sampleResult } from "../../report/support/sampleResult.ts";

const desk = { width: 1240, pitch: 56, scale: 28 };
const phone = { width: 340, pitch: 46, scale: 28 };

describe("the board", () => {
  for (const [name, room] of Object.entries({ desk, phone }))
    for (const tubes of [1, 7, 24, 60])
      it(`shows ${tubes} tubes on a ${name} once each, in order, inside the width, wide enough for a finger`, () => {
        const rows = arrange(sampleResult({ tubes, lanesPerPlate: 11 }), room);
        const columns = rows.flatMap((r) => r.columns);
        expect(columns.map((c) => c.tube!.number)).toEqual(Array.from({ length: tubes }, (_, i) => i + 1));
        for (const row of rows) expect(row.width).toBeLessThanOrEqual(room.width);
        for (const c of columns) expect(c.width).toBeGreaterThanOrEqual(44);
        for (const {
          columns: [first, ...rest],
        } of rows) {
          let x = first?.x ?? 0;
          for (const c of [first, ...rest].filter(Boolean)) {
            expect(c.x).toBeCloseTo(x);
            x += c.width;
          }
        }
      });

  it("shows every reference lane: before the tubes where there is room, below them where there is not", () => {
    const result = sampleResult({ tubes: 24 });
    const all = result.plates.flatMap((p) => p.lanes.filter((l) => l.fraction === null)).length;
    const shown = (room: typeof desk) => arrange(result, room).map((r) => r.references.length);
    expect(shown(desk)[0]).toBe(all);
    expect(shown(phone)[0]).toBe(0);
    expect(shown(phone).at(-1)).toBe(all);
  });

  it("gives a tube that was spotted twice a place for each lane", () => {
    const result = sampleResult({ tubes: 24 });
    const [first, ...others] = result.plates;
    const again = { ...first, id: "again", lanes: first.lanes.filter((l) => l.fraction === 3) };
    const rows = arrange({ ...result, plates: [first, ...others, again] }, desk);
    const columns = rows.flatMap((r) => r.columns);
    expect(columns[2].lanes).toHaveLength(2);
    expect(columns[2].width).toBeCloseTo(2 * columns[3].width);
  });
});

describe("the gap nearest to a finger", () => {
  const rows = arrange(sampleResult({ tubes: 24 }), phone);
  const laid = rows.map((row, i) => ({ row, left: 10, top: 100 + 500 * i, bottom: 100 + 500 * i + 480 }));

  it("is counted in tubes before it, row by row", () => {
    const [first, second] = laid;
    expect(nearestGap(laid, 0, 200)).toBe(0);
    expect(nearestGap(laid, 10 + first.row.columns[2].x + 3, 120)).toBe(2);
    expect(nearestGap(laid, 5000, 120)).toBe(first.row.end);
    expect(nearestGap(laid, 0, 700)).toBe(second.row.start);
    expect(nearestGap(laid, 10 + second.row.columns[1].x - 4, 650)).toBe(second.row.start + 1);
  });

  it("is in a row of tubes, even below all of them", () => {
    expect(nearestGap(laid, 5000, 99_999)).toBe(24);
  });
});
