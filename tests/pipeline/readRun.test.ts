import { describe, expect, it } from "vitest";
import type { PlateReading, RunFile } from "../../src/model/index.ts";
import type { GroupReading } from "../../src/pipeline/group.ts";
import { nameLanes } from "../../src/pipeline/nameLanes.ts";
import { readRun } from "../../src/pipeline/readRun.ts";
import { sameAgain } from "../../src/pipeline/sameAgain.ts";
import { halfTurned } from "../../src/plate/register/index.ts";
import { makePlane } from "../../src/raster/picture.ts";
import { groupOf, plate } from "./sampleReadings.ts";

const SETTINGS = { policy: "balance", want: null } as const;
const input = (files: string[], run: RunFile | null = null) => ({ files, run, findings: [] });
const lanesOf = (groups: GroupReading[]) =>
  nameLanes(groups).map((p) => p.reading.lanes.map((l) => `${l.label}/${l.fraction}`).join(" "));

describe("lanes", () => {
  it("that nobody named are tubes that run on from plate to plate", () => {
    const groups = [groupOf(plate("a.jpg", [[], [], []])), groupOf(plate("b.jpg", [[], []]))];
    expect(lanesOf(groups)).toEqual(["1/1 2/2 3/3", "4/4 5/5"]);
    expect(nameLanes(groups).map((p) => p.reading.id)).toEqual(["P1", "P2"]);
  });

  it("take the names of the run file; a plate keeps the number of its place there", () => {
    const laneNames = [
      { label: "crude", fraction: null },
      { label: "8", fraction: 8 },
    ];
    const groups = [
      groupOf(plate("c.jpg", [[]]), { listed: 2 }),
      groupOf(plate("a.jpg", [[], []]), { listed: 0, laneNames, lanesLine: 4 }),
    ];
    expect(lanesOf(groups)).toEqual(["crude/null 8/8", "9/9"]);
    expect(nameLanes(groups).map((p) => p.reading.id)).toEqual(["P1", "P3"]);
  });

  it.each([
    ["more names than lanes", 3, 2, "run.yaml line 4: 3 lanes are named, but plate P1 (a.jpg) shows 2."],
    ["more lanes than names", 1, 2, "run.yaml line 4: 1 lanes are named, but plate P1 (a.jpg) shows 2."],
  ])("%s: a warning with the line, and the run goes on", (_, names, lanes, words) => {
    const laneNames = Array.from({ length: names }, (_, i) => ({ label: String(i + 1), fraction: i + 1 }));
    const shown = Array.from({ length: lanes }, () => []);
    const [named] = nameLanes([groupOf(plate("a.jpg", shown), { listed: 0, laneNames, lanesLine: 4 })]);
    expect(named.reading.lanes.map((l) => l.fraction)).toEqual([1, names > 1 ? 2 : null]);
    expect(named.findings.map((f) => f.message)).toEqual([words]);
  });
});

describe("one plate photographed twice without a run file", () => {
  const spots = [[[0.4, 100]], [[0.2, 50]]] as const;

  /** What stands out on a plate: a few specks, elsewhere for each `kind`. */
  const lookOf = (kind: number) => {
    const look = makePlane(150, 200);
    for (let k = 0; k < 12; k++) look.data[(7919 * (k + 1) * (kind + 3)) % look.data.length] = 1 + (k % 3);
    return look;
  };
  const named = (...plates: readonly (readonly [PlateReading, number])[]) =>
    nameLanes(plates.map(([reading, kind]) => groupOf(reading, { look: lookOf(kind) })));
  const first = plate("IMG_1.jpg", spots);
  const white = plate("IMG_2.jpg", spots, "white");

  it("is doubted where the same things stand out and the light is another, however many lanes were counted", () => {
    expect(sameAgain(named([first, 1], [white, 1])).map((f) => f.code)).toEqual(["perhaps-one-plate"]);
    const [doubt] = sameAgain(named([first, 1], [plate("IMG_2.jpg", [...spots, []], "white"), 1]));
    expect(doubt.message).toContain("IMG_1.jpg and IMG_2.jpg");
  });

  it("is doubted where one photo shows it upside down", () => {
    const [a, b] = named([first, 1], [white, 1]);
    expect(sameAgain([a, { ...b, look: halfTurned(b.look!) }])).toHaveLength(1);
  });

  it("is not doubted under the same light, in another shape, or where other things stand out", () => {
    expect(sameAgain(named([first, 1], [plate("IMG_2.jpg", spots), 1]))).toEqual([]);
    expect(sameAgain(named([first, 1], [{ ...white, aspect: 1 }, 1]))).toEqual([]);
    expect(sameAgain(named([first, 1], [white, 2]))).toEqual([]);
  });

  it("is not doubted where the names tell two", () => {
    const [p1, p2] = [plate("p1-254.jpg", spots), plate("p2-stain.jpg", spots, "white")];
    expect(sameAgain(named([p1, 1], [p2, 1]))).toEqual([]);
    const lettered = [
      plate("3a.jpg", spots),
      plate("6b.jpg", spots, "white"),
      plate("3c.jpg", spots, "uv365"),
    ] as const;
    expect(sameAgain(named([lettered[0], 1], [lettered[1], 1]))).toHaveLength(1);
    expect(sameAgain(named([lettered[0], 1], [lettered[1], 1], [lettered[2], 2]))).toEqual([]);
  });

  it("is said once of a plate: of the pair most alike", () => {
    const [a, b, c] = named([first, 1], [white, 1], [plate("IMG_3.jpg", spots, "uv365"), 1]);
    const alike = makePlane(150, 200);
    for (const [i, v] of c.look!.data.entries()) alike.data[i] = i % 2 === 0 ? v : 0;
    expect(sameAgain([a, b, { ...c, look: alike }]).map((f) => f.where.photo)).toEqual(["IMG_2.jpg"]);
  });
});

describe("a whole run", () => {
  const groups = [
    groupOf(
      plate("p1.jpg", [
        [[0.5, 900]],
        [[0.5, 1200]],
        [
          [0.5, 300],
          [0.3, 500],
        ],
        [[0.3, 1000]],
      ]),
    ),
    groupOf(plate("p2.jpg", [[[0.3, 800]], []])),
  ];
  const read = (order = groups) => readRun(input(["p1.jpg", "p2.jpg"]), SETTINGS, async () => order);

  it("has the contract's fields, and its numbers are rounded", async () => {
    const { result } = await read();
    expect(Object.keys(result)).toEqual(
      "schema run settings photos plates components fractions pools profiles policies advice warnings".split(" "),
    );
    expect(result.schema).toBe("platepool.result/1");
    expect(result.photos.map((p) => [p.file, p.status, p.plate, p.plates])).toEqual([
      ["p1.jpg", "read", "P1", ["P1"]],
      ["p2.jpg", "read", "P2", ["P2"]],
    ]);
    expect(result.plates[0].corners![0]).toEqual([0.12, 0]);
    expect(result.plates[0].origin).toEqual({ y: 0.9, source: "found", tilt: 0, bow: 0 });
    expect(result.fractions.map((f) => f.number)).toEqual([1, 2, 3, 4, 5, 6]);
    expect(result.components).toHaveLength(2);
    expect(result.plates[0].lanes[2].spots.map((s) => s.component)).toEqual(["A", "B"]);
    expect(result.fractions.map((f) => f.state)).toEqual(["clean", "clean", "mixed", "clean", "clean", "empty"]);
  });

  it("is the same, byte for byte, when read again", async () => {
    expect(JSON.stringify((await read()).result)).toBe(JSON.stringify((await read()).result));
  });

  it("a tube count from the run file reaches beyond the lanes", async () => {
    const run: RunFile = { run: "r", fractionCount: 8, volumeMl: 10, plates: null } as RunFile;
    const { result } = await readRun(input(["p1.jpg", "p2.jpg"], run), SETTINGS, async () => groups);
    expect(result.run).toBe("r");
    expect(result.fractions.map((f) => f.seen)).toEqual([true, true, true, true, true, true, false, false]);
  });

  it("nothing but rejected photos still makes a result", async () => {
    const bad: GroupReading = {
      photos: [{ file: "x.jpg", reason: "no", light: "white", quality: null, width: 0, height: 0, picture: null }],
      ...{ plates: [], findings: [], crashes: [] },
    };
    const { result, plates } = await readRun(input(["x.jpg"]), SETTINGS, async () => [bad]);
    expect(plates).toEqual([]);
    expect(result.photos).toMatchObject([
      { file: "x.jpg", status: "rejected", reason: "no", plate: null, quality: null },
    ]);
    expect([result.plates, result.pools, result.fractions]).toEqual([[], [], []]);
  });

  it("photos that the run file forgets or invents are rejected with a reason", async () => {
    const run = {
      run: null,
      fractionCount: null,
      volumeMl: null,
      plates: [{ photos: [{ file: "gone.jpg", light: "uv365", stain: null }], lanes: null, origin: null, front: null }],
    } as unknown as RunFile;
    const { result } = await readRun(input(["x.jpg"], run), SETTINGS, async () => []);
    expect(result.photos.map((p) => [p.file, p.status, p.light])).toEqual([
      ["x.jpg", "rejected", "white"],
      ["gone.jpg", "rejected", "uv365"],
    ]);
    for (const photo of result.photos) expect(photo.reason).toContain("run.yaml");
  });

  it("a finding on a lane becomes a warning on its tube", async () => {
    const [first, second] = groups;
    const finding = { code: "streak", message: "A streak.", remedy: "Spot less.", where: { lane: 3 } };
    const doubted = [{ ...first, plates: first.plates.map((p) => ({ ...p, findings: [finding] })) }, second];
    const { result } = await read(doubted);
    expect(result.warnings).toContainEqual({
      code: "streak",
      message: "A streak. Spot less.",
      photo: "p1.jpg",
      fraction: 3,
    });
  });
});
