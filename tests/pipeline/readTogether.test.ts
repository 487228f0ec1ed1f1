import { describe, expect, it } from "vitest";
import type { LinePlaces, PlateReading } from "../../src/model/index.ts";
import type { GroupReading, PhotoGroup } from "../../src/pipeline/group.ts";
import { readTogether } from "../../src/pipeline/readTogether.ts";
import { groupOf, line, plate } from "./sampleReadings.ts";

const group = (file: string): PhotoGroup => ({ photos: [{ file, light: null, stain: null }], plates: null });

/** The sample plate stands on an origin of 0.9 and a front of 0.1; here its origin is read elsewhere, as its own spots would have it. */
function misread(reading: PlateReading, origin: number): PlateReading {
  return { ...reading, origin: line(origin, "assumed") };
}

const SPOTS: readonly (readonly [number, number])[] = [
  [0.3, 5],
  [0.6, 5],
];
const LANES = [SPOTS, SPOTS, SPOTS, SPOTS];
const DOUBTFUL: LinePlaces = {
  origin: [
    { y: 0.78, sd: 0, probability: 0.6 },
    { y: 0.9, sd: 0, probability: 0.4 },
  ],
  front: [{ y: 0.1, sd: 0, probability: 1 }],
};

async function readAll(readings: readonly GroupReading[], secondTime: readonly GroupReading[] = readings) {
  const asked: (readonly PhotoGroup[])[] = [];
  const result = await readTogether(
    readings.map((_, i) => group(`${i}.jpg`)),
    async (some) => {
      asked.push(some);
      return some.map(
        ({ photos: [{ file }] }) => (asked.length > 1 ? secondTime : readings)[Number.parseInt(file, 10)],
      );
    },
  );
  return { asked, result };
}

describe("plates of a run read together", () => {
  const clear = groupOf(plate("0.jpg", LANES));
  const doubtful = groupOf(misread(plate("1.jpg", LANES), 0.78), { places: DOUBTFUL });

  it("have a plate read again whose lines lie where the others do not run on, and say so", async () => {
    const { asked, result } = await readAll([clear, doubtful]);
    expect(asked).toHaveLength(2);
    expect(asked[1].map(({ byOthers }) => byOthers)).toEqual([
      [{ plate: { photos: ["1.jpg"], place: 0 }, origin: 0.9, front: 0.1 }],
    ]);
    expect(result[1].plates[0].findings.map((f) => f.code)).toEqual(["lines-by-others"]);
    expect(result[0]).toEqual(clear);
  });

  it("have it read again on lines that are not sure either, but plainly likelier than its own", async () => {
    /** Its own line, one that runs on from the others, and one beside that; the plate shows a far tube alone. */
    const between = (own: number, level: number, beside: number) => {
      const origin = [
        { y: 0.78, sd: 0, probability: own },
        { y: 0.87, sd: 0, probability: beside },
        { y: 0.9, sd: 0, probability: level },
      ];
      return groupOf(misread(plate("1.jpg", [[], [], [], SPOTS]), 0.78), { places: { ...DOUBTFUL, origin } });
    };
    const { asked } = await readAll([clear, between(0.9, 0.045, 0.055)]);
    expect(asked[1].map(({ byOthers }) => byOthers?.[0].origin)).toEqual([0.9]);
    expect((await readAll([clear, between(0.94, 0.03, 0.03)])).asked).toHaveLength(1);
  });

  it("say nothing of a plate that ran in another eluent", async () => {
    const ranIn = (read: GroupReading, eluent: string) => ({
      ...read,
      plates: read.plates.map((plate) => ({ ...plate, eluents: [eluent] })),
    });
    const one = ranIn(clear, "hexane/EtOAc 4:1");
    expect((await readAll([one, ranIn(doubtful, "hexane/EtOAc 4:1")])).asked).toHaveLength(2);
    expect((await readAll([one, ranIn(doubtful, "hexane/EtOAc 1:1")])).asked).toHaveLength(1);
  });

  it("keep what was read first where the second reading is lost, and the fault", async () => {
    const gone: GroupReading = { photos: [], plates: [], findings: [], crashes: ["out of memory"] };
    const { result } = await readAll([clear, doubtful], [clear, gone]);
    expect(result[1].plates[0].reading.origin.y).toBe(0.78);
    expect(result[1].plates[0].findings).toEqual([]);
    expect(result[1].photos).toHaveLength(1);
    expect(result[1].crashes).toEqual(["out of memory"]);
  });

  it("are read once where all is clear, or only one plate is there", async () => {
    expect((await readAll([clear, groupOf(plate("1.jpg", LANES))])).asked).toHaveLength(1);
    expect((await readAll([groupOf(misread(plate("0.jpg", LANES), 0.78), { places: DOUBTFUL })])).asked).toHaveLength(
      1,
    );
  });
});
