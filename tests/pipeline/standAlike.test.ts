import { describe, expect, it } from "vitest";
import type { GroupReading, PhotoGroup } from "../../src/pipeline/group.ts";
import { readStandingAlike } from "../../src/pipeline/standAlike.ts";
import type { Standing, Turn } from "../../src/plate/upright/index.ts";

const logs = (...p: number[]): Standing => p.map(Math.log) as unknown as Standing;
const CLEAR_UP = logs(0.97, 0.01, 0.01, 0.01);
const CLEAR_DOWN = logs(0.01, 0.01, 0.97, 0.01);
const UNCLEAR = logs(0.3, 0.05, 0.6, 0.05);
const POOR_UP = logs(0.48, 0.05, 0.42, 0.05);
const LEANING = logs(0.2, 0.6, 0.05, 0.15);
const UNCLEAR_LYING = logs(0.03, 0.7, 0.02, 0.25);
const PLAIN_UP = logs(0.9996, 0.0001, 0.0002, 0.0001);

const UNSURE = [UNCLEAR, POOR_UP, UNCLEAR_LYING];

const group = (file: string): PhotoGroup => ({ photos: [{ file, light: null, stain: null }], plates: null });

const doubt = (file: string) => ({
  code: "way-up-unsure",
  message: "Which way up the plate stands is not clear.",
  remedy: "Read again.",
  where: { photo: file },
});

function reading(file: string, standing: Standing | null, turn: Turn): GroupReading {
  const ways = standing === null ? {} : { ways: [{ file, standing, turn }] };
  const findings = standing !== null && UNSURE.includes(standing) ? [doubt(file)] : [];
  return { photos: [], plates: [], findings, crashes: [], ...ways };
}

/** Reads groups that stand so; what is told to be turned is read so. */
async function readAll(stand: readonly [Standing | null, Turn][]) {
  const groups = stand.map((_, i) => group(`${i}.jpg`));
  const asked: PhotoGroup[][] = [];
  const readGroups = async (some: readonly PhotoGroup[]) => {
    asked.push([...some]);
    return some.map(({ photos: [{ file, up }] }) => {
      const [standing, turn] = stand[Number.parseInt(file, 10)];
      return up === undefined ? reading(file, standing, turn) : reading(file, null, 0);
    });
  };
  const { readings } = await readStandingAlike({ groups, readings: await readGroups(groups) }, readGroups);
  return { asked: asked.map((some) => some.map(({ photos: [p] }) => [p.file, p.up])), readings };
}

describe("plates of a run", () => {
  it("stand as the run as a whole shows: one that did not tell is read again, and that is said", async () => {
    const { asked, readings } = await readAll([
      [CLEAR_DOWN, 2],
      [UNCLEAR, 0],
      [CLEAR_DOWN, 2],
    ]);
    expect(asked[1]).toEqual([["1.jpg", "down"]]);
    expect(readings[1].findings.map((f) => f.code)).toEqual(["way-up-by-others"]);
    expect(readings[1].findings[0].message).toContain("solvent front down");
    expect(asked).toHaveLength(2);
  });

  it("stay where the photos of other groups are turned differently by themselves: the run was not taken from one side", async () => {
    const asked: (readonly PhotoGroup[])[] = [];
    const stand: [Standing, Turn][][] = [
      [[CLEAR_DOWN, 2]],
      [[UNCLEAR, 0]],
      [
        [PLAIN_UP, 0],
        [LEANING, 1],
      ],
    ];
    const readGroups = async (some: readonly PhotoGroup[]) => {
      asked.push(some);
      return some.map(({ photos: [{ file }] }) => {
        const ways = stand[Number.parseInt(file, 10)].map(([standing, turn]) => ({ file, standing, turn }));
        return { photos: [], plates: [], findings: [], crashes: [], ways };
      });
    };
    const groups = stand.map((_, i) => group(`${i}.jpg`));
    await readStandingAlike({ groups, readings: await readGroups(groups) }, readGroups);
    expect(asked).toHaveLength(1);
  });

  it("are read once where all agree, and clear ones take the doubt off a poor one", async () => {
    const { asked, readings } = await readAll([
      [CLEAR_UP, 0],
      [POOR_UP, 0],
      [CLEAR_UP, 0],
    ]);
    expect(asked).toHaveLength(1);
    expect(readings.flatMap((r) => r.findings)).toEqual([]);
  });

  it("turn as they together seem to stand where each alone would not be turned; what agrees keeps its doubt", async () => {
    const { asked, readings } = await readAll([
      [LEANING, 0],
      [LEANING, 0],
      [UNCLEAR_LYING, 1],
    ]);
    expect(asked[1]).toEqual([
      ["0.jpg", "left"],
      ["1.jpg", "left"],
    ]);
    expect(readings.map((r) => r.findings.map((f) => f.code))).toEqual([
      ["way-up-by-others"],
      ["way-up-by-others"],
      ["way-up-unsure"],
    ]);
  });

  it("go their own way where that is plain", async () => {
    const { asked } = await readAll([
      [CLEAR_DOWN, 2],
      [PLAIN_UP, 0],
      [CLEAR_DOWN, 2],
      [CLEAR_DOWN, 2],
    ]);
    expect(asked).toHaveLength(1);
  });

  it("stay as somebody said, and alone a plate is what it seems, doubt and all", async () => {
    const told = await readAll([
      [CLEAR_DOWN, 2],
      [null, 0],
      [CLEAR_DOWN, 2],
    ]);
    expect(told.asked).toHaveLength(1);
    const alone = await readAll([[UNCLEAR, 0]]);
    expect(alone.readings[0].findings.map((f) => f.code)).toEqual(["way-up-unsure"]);
  });
});
