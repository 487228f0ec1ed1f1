import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { decodePhoto } from "../../../src/codec/index.ts";
import type { Quad } from "../../../src/model/index.ts";
import { readPlate } from "../../../src/plate/index.ts";
import type { RunTruth } from "../../../src/render/index.ts";

const RUNS = new URL("../../../fixtures/runs/", import.meta.url);

/** Blobs (x, y in plate fractions, size) of scikit-image's blob_log and blob_dog; `reference/blobs.py` made them. */
const opinions = JSON.parse(readFileSync(new URL("./reference/blobs.json", import.meta.url), "utf8")) as {
  run: string;
  file: string;
  detector: string;
  blobs: [number, number, number][];
}[];

/** Confident spots of the first plate of a fixture, read with its true corners; plate fractions. */
async function spotsOf(run: string, file: string) {
  const folder = new URL(`${run}/`, RUNS);
  const truth = JSON.parse(readFileSync(new URL("truth.json", folder), "utf8")) as RunTruth;
  const photo = truth.photos.find((p) => p.file === file)!;
  const { picture, scale } = await decodePhoto(readFileSync(new URL(file, folder)), file, { maxLongSide: 2000 });
  const quad = photo.plates[0].corners.map(([x, y]) => [x / scale, y / scale]) as unknown as Quad;
  const { light, stain } = photo;
  const quality = { blurPx: 2, clipped: [0, 0, 0] as const, evenness: 1, platePx: 1000, cutOff: false, advice: null };
  const laneNames = truth.plates[0].lanes.map(({ label, fraction }) => ({ label, fraction }));
  const { value } = readPlate([{ file, picture, quad, scale, light, stain, quality }], {
    id: "p1",
    laneNames,
    origin: null,
    front: null,
  });
  return value.lanes.flatMap((lane) => lane.spots).filter((s) => s.confidence > 0.5);
}

const readings = new Map<string, ReturnType<typeof spotsOf>>();
function reading(run: string, file: string): ReturnType<typeof spotsOf> {
  const known = readings.get(run) ?? spotsOf(run, file);
  readings.set(run, known);
  return known;
}

describe("spots against scikit-image's blob detectors", () => {
  it.each(opinions)("$run: most spots are blobs of $detector too, at the same place", async ({ run, file, blobs }) => {
    const spots = await reading(run, file);
    expect(spots.length).toBeGreaterThan(10);
    const nearest = spots.map((s) => Math.min(...blobs.map(([x, y]) => Math.hypot(x - s.x, y - s.y))));
    const agreed = nearest.filter((d) => d < 0.02).sort((a, b) => a - b);
    expect(agreed.length / spots.length).toBeGreaterThan(0.75);
    expect(agreed[agreed.length >> 1]).toBeLessThan(0.006);
  });

  it.each(opinions)("$run: what $detector sees where a true spot is, we see", async ({ run, file, blobs }) => {
    const truth = JSON.parse(readFileSync(new URL(`${run}/truth.json`, RUNS), "utf8")) as RunTruth;
    const seen = truth.plates[0].lanes
      .flatMap((lane) => lane.spots)
      .filter((s) => s.mustFind && blobs.some(([x, y]) => Math.hypot(x - s.x, y - s.y) < 0.02));
    expect(seen.length).toBeGreaterThan(10);
    const spots = await reading(run, file);
    const missed = seen.filter((t) => !spots.some((s) => Math.hypot(t.x - s.x, t.y - s.y) < 0.02));
    expect(missed.length).toBeLessThanOrEqual(1);
  });
});
