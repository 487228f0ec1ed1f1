import { describe, expect, it } from "vitest";
import type { Component, PlateReading, SpotAssignment } from "../../src/model/index.ts";
import { listedConfidence, type ScaleSigns, scaleSigns } from "../../src/pipeline/listedConfidence.ts";
import { plate } from "./sampleReadings.ts";

const GOOD: ScaleSigns = { logLines: 5, logPixels: Math.log(1200), offset: 0.002, loose: 0 };
const ON_TRACK = 1.6;
const listed = (confidence: number, signs: Partial<ScaleSigns> = {}, onTrack = ON_TRACK) =>
  listedConfidence({ confidence }, onTrack, { ...GOOD, ...signs });

describe("listedConfidence", () => {
  it("of a clear spot on a plate without doubts is near 1, and grows with the spot's own", () => {
    expect(listed(0.99)).toBeGreaterThan(0.97);
    const own = [0.3, 0.6, 0.8, 0.95, 0.999].map((c) => listed(c));
    expect([...own].sort((a, b) => a - b)).toEqual(own);
  });

  it.each([
    ["its lines are in doubt", { logLines: 0 }],
    ["the plate is small in the picture", { logPixels: Math.log(300) }],
    ["its spots stand off their components", { offset: 0.03 }],
    ["many spots belong to no component", { loose: 0.5 }],
  ])("is lower where %s, for every spot of the plate", (_, signs) => {
    for (const c of [0.6, 0.9, 0.999]) expect(listed(c, signs)).toBeLessThan(listed(c) - 0.0005);
  });

  it("is lower off the tracks of the run's other spots", () => {
    for (const c of [0.6, 0.9, 0.99]) expect(listed(c, {}, -1)).toBeLessThan(listed(c) - 0.01);
  });

  it("leaves what a person said certain", () => {
    expect(listed(1, { logLines: -3, offset: 0.05 }, -1)).toBe(1);
  });
});

describe("scaleSigns", () => {
  const reading: PlateReading = {
    ...plate("a.jpg", [
      [
        [0.01, 1],
        [0.32, 5],
      ],
      [
        [0.34, 5],
        [0.7, 2],
      ],
    ]),
    id: "P1",
    linesSure: 0.8,
  };
  const component: Component = { id: "A", rf: 0.3, rfSd: 0.01, first: 1, last: 2, inReference: false };
  const to = (plateId: string, lane: number, spot: number): SpotAssignment => ({
    ...{ plate: plateId, lane, spot },
    component: "A",
  });

  it("are read from lines, photos and the run's components; marks on the start line do not count", () => {
    const signs = scaleSigns(reading, [to("P1", 1, 1), to("P1", 2, 0), to("P2", 2, 1)], [component]);
    expect(signs.logLines).toBeCloseTo(Math.log(4), 12);
    expect(signs.logPixels).toBeCloseTo(Math.log(900), 12);
    expect(signs.offset).toBeCloseTo(0.03, 12);
    expect(signs.loose).toBeCloseTo(1 / 3, 12);
  });

  it("of a plate without spots are no doubt", () => {
    const bare = { ...reading, lanes: reading.lanes.map((l) => ({ ...l, spots: [] })) };
    expect(scaleSigns(bare, [], [])).toMatchObject({ offset: 0, loose: 0 });
  });
});
