import { describe, expect, it } from "vitest";
import type { GroupReading, PhotoGroup } from "../../src/pipeline/group.ts";
import { standOnTracks } from "../../src/pipeline/standOnTracks.ts";
import type { Standing, Turn } from "../../src/plate/upright/index.ts";
import { groupOf, plate } from "./sampleReadings.ts";

const logs = (...p: number[]): Standing => p.map(Math.log) as unknown as Standing;
const UNCLEAR = logs(0.6, 0.005, 0.39, 0.005);
const CLEAR = logs(0.998, 0.0005, 0.001, 0.0005);

const group = (...files: string[]): PhotoGroup => ({
  photos: files.map((file) => ({ file, light: null, stain: null })),
  plates: null,
});

type Lanes = Parameters<typeof plate>[1];
const read = (file: string, lanes: Lanes, standing: Standing, turn: Turn): GroupReading => ({
  ...groupOf(plate(file, lanes)),
  ways: [{ file, standing, turn }],
});

const ROW = (...rf: number[]): Lanes => Array.from({ length: 5 }, () => rf.map((one) => [one, 5] as const));
const FIRST = read("0.jpg", ROW(0.3, 0.7), CLEAR, 0);
/** What the second photo shows as it was read, and upside down. */
const FEW: Lanes = [[[0.5, 3]], [], [], [], []];
const MANY = ROW(0.31, 0.69);

async function stand(second: GroupReading, otherwise: Lanes, then: PhotoGroup = group("1.jpg")) {
  const asked: (readonly PhotoGroup[])[] = [];
  const before = [group("0.jpg"), group("1.jpg", ...then.photos.slice(1).map(({ file }) => file))];
  const { readings, groups } = await standOnTracks(
    before,
    { groups: [before[0], then], readings: [FIRST, second] },
    async (some) => {
      asked.push(some);
      return some.map(() => groupOf(plate("1.jpg", otherwise)));
    },
  );
  const ups = asked.flat().map(({ photos }) => photos.flatMap(({ file, up }) => [file, up]));
  return { asked: ups, second: readings[1], groups };
}

describe("a plate that may stand another way up", () => {
  it("is read that way too where its spots do not run on from the others', and stands so where they do then", async () => {
    const { asked, second, groups } = await stand(read("1.jpg", FEW, UNCLEAR, 0), MANY);
    expect(asked).toEqual([["1.jpg", "down"]]);
    expect(second.plates[0].reading.lanes[2].spots).toHaveLength(2);
    expect(second.findings.map((f) => f.code)).toEqual(["way-up-by-spots"]);
    expect(groups[1].photos[0].up).toBe("down");
  });

  it("is tried in all ways that are not unlikely", async () => {
    const { asked, second } = await stand(read("1.jpg", FEW, logs(0.34, 0.29, 0.01, 0.36), 0), MANY);
    expect(asked).toEqual([
      ["1.jpg", "left"],
      ["1.jpg", "down"],
      ["1.jpg", "right"],
    ]);
    expect(second.findings[0].message).toContain("solvent front right");
  });

  it("may stand otherwise than the others though it was turned as they are", async () => {
    const like = { ...group("1.jpg"), photos: [{ file: "1.jpg", light: null, stain: null, up: "up" as const }] };
    const { asked, groups } = await stand(read("1.jpg", FEW, UNCLEAR, 0), MANY, like);
    expect(asked).toEqual([["1.jpg", "down"]]);
    expect(groups[1].photos[0].up).toBe("down");
  });

  it("is turned in each of its photos, which stay turned against each other as they were found to be", async () => {
    const ways = [
      { file: "1.jpg", standing: UNCLEAR, turn: 0 as const },
      { file: "1-stain.jpg", standing: logs(0.39, 0.005, 0.6, 0.005), turn: 2 as const },
    ];
    const { asked, second } = await stand(
      { ...read("1.jpg", FEW, UNCLEAR, 0), ways },
      MANY,
      group("1.jpg", "1-stain.jpg"),
    );
    expect(asked).toEqual([["1.jpg", "down", "1-stain.jpg", "up"]]);
    expect(second.findings.map((f) => f.where.photo)).toEqual(["1.jpg", "1-stain.jpg"]);
  });

  it("is left where plates of one photo were turned differently", async () => {
    const ways = ([0, 2] as const).map((turn) => ({ file: "1.jpg", standing: UNCLEAR, turn }));
    expect((await stand({ ...read("1.jpg", FEW, UNCLEAR, 0), ways }, MANY)).asked).toEqual([]);
  });

  it("stays where nothing runs on better the other way up", async () => {
    const before = read("1.jpg", FEW, UNCLEAR, 0);
    expect((await stand(before, [[[0.5, 3]], [[0.1, 2]], [], [], []])).second).toBe(before);
  });

  it("stays where nothing can be read the other way up", async () => {
    const before = read("1.jpg", FEW, logs(0.4, 0.005, 0.59, 0.005), 0);
    expect((await stand(before, [])).second).toBe(before);
    expect((await stand(before, [[], [], [], [], []])).second).toBe(before);
  });

  it("is not tried where no other plate says anything of its tubes", async () => {
    const alone = { groups: [group("1.jpg")], readings: [read("1.jpg", FEW, UNCLEAR, 0)] };
    const asked = await standOnTracks(alone.groups, alone, async () => {
      throw new Error("nothing is to be read");
    });
    expect(asked.readings).toBe(alone.readings);
  });

  it("is not tried where its spots run on, or where it shows clearly how it stands", async () => {
    expect((await stand(read("1.jpg", MANY, UNCLEAR, 0), FEW)).asked).toEqual([]);
    expect((await stand(read("1.jpg", FEW, CLEAR, 0), MANY)).asked).toEqual([]);
  });
});
