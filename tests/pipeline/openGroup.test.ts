import { readFileSync } from "node:fs";
import { beforeAll, describe, expect, it } from "vitest";
import {
  type Decisions,
  NO_DECISIONS,
  type PlateMending,
  type Quad,
  type ReadSettings,
  type ResultPlate,
} from "../../src/model/index.ts";
import {
  decideRun,
  type GroupReading,
  type OpenGroup,
  openGroup,
  readGroup,
  readRun,
  runGroups,
  runPictures,
} from "../../src/pipeline/index.ts";

const FILE = "plate-01a.jpg";
const bytes = readFileSync(`fixtures/runs/easy-6/${FILE}`);
const INPUT = { files: [FILE], run: null, findings: [] };
const SETTINGS: ReadSettings = { policy: "balance", want: null };
const [GROUP] = runGroups(INPUT, SETTINGS);
const PLATE = { photos: [FILE], place: 0 };
const MENDING: PlateMending = {
  plate: PLATE,
  ...{ corners: [], origin: null, front: null, lanes: null, laneNames: [], spots: [] },
};
let loads = 0;
const load = async () => {
  loads++;
  return bytes;
};

let open: OpenGroup;
let first: GroupReading;
let plate: ResultPlate;
beforeAll(async () => {
  open = await openGroup(GROUP, load);
  first = await open.read({}, { pictures: false });
  plate = decideRun(INPUT, SETTINGS, [first]).result.plates[0];
});

/** The plate as it reads when mended, from the photo kept decoded. */
async function mended(change: Partial<PlateMending>) {
  const plates = [{ ...MENDING, ...change }];
  const read = await open.read({ mendings: plates }, { pictures: false });
  const decisions: Decisions = { ...NO_DECISIONS, last: 1, plates };
  const { result } = decideRun({ ...INPUT, decisions }, SETTINGS, [read]);
  return { plate: result.plates[0], result, plates };
}

describe("a plate read again as it was mended", () => {
  it("needs no second decoding, and unmended is as first read", async () => {
    expect(loads).toBe(1);
    await mended({ origin: 0.8 });
    const again = await open.read({}, { pictures: false });
    expect(again).toEqual(first);
    expect(loads).toBe(1);
  });

  it("is the same without its pictures, which can be asked for afterwards, and a rehearsal leaves no trace", async () => {
    const plates = [{ ...MENDING, origin: 0.81 }];
    const bare = await open.read({ mendings: plates }, { pictures: false });
    await open.rehearse();
    const whole = await open.read({ mendings: plates }, { pictures: true });
    const anew = await readGroup({ ...GROUP, mendings: plates }, load, { pictures: true });
    expect(whole).toEqual(anew);
    expect({ ...decideRun(INPUT, SETTINGS, [bare]), ...runPictures(INPUT, [whole]) }).toEqual(
      decideRun(INPUT, SETTINGS, [anew]),
    );
  });

  it("reads as it would from the beginning", async () => {
    const { result, plates } = await mended({ origin: plate.origin.y + 0.01, front: plate.front.y - 0.01 });
    const decisions: Decisions = { ...NO_DECISIONS, last: 1, plates };
    const anew = await readRun({ ...INPUT, decisions }, SETTINGS, ([group]) =>
      Promise.all([readGroup(group, load, { pictures: false })]),
    );
    expect(JSON.stringify(anew.result)).toBe(JSON.stringify(result));
  });

  it("origin and front lie where they were put", async () => {
    const { plate: now } = await mended({ origin: 0.83, front: 0.12 });
    expect([now.origin, now.front].map((l) => [l.y, l.source])).toEqual([
      [0.83, "given"],
      [0.12, "given"],
    ]);
  });

  it("corners lie where they were put, in that photo", async () => {
    const corners = plate.corners!.map(([x, y], i) => [x + (i === 0 ? 6 : 0), y]) as unknown as Quad;
    const { plate: now } = await mended({ corners: [{ photo: FILE, corners }] });
    expect(now.corners).toEqual(corners.map(([x, y]) => [Number(x.toFixed(2)), Number(y.toFixed(2))]));
    expect(now.lanes).toHaveLength(plate.lanes.length);
  });

  it("lanes are those that were placed, with their names, and their spots are found", async () => {
    const lanes = plate.lanes.slice(1).map(({ x }, i) => ({ x, label: String(i + 4), fraction: i + 4 }));
    const { plate: now } = await mended({ lanes });
    expect(now.lanes.map((l) => [l.x, l.fraction])).toEqual(lanes.map((l) => [l.x, l.fraction]));
    plate.lanes.slice(1).forEach((lane, i) => {
      const found = now.lanes[i].spots.map((s) => s.rf);
      // A faint spot beside the struck lane may go with it: its neighbour no longer speaks for it.
      for (const { rf, confidence } of lane.spots)
        if (confidence > 0.95 && i > 0) expect(Math.min(...found.map((r) => Math.abs(r - rf)))).toBeLessThan(0.02);
    });
  });

  it("one lane named by hand goes by that name, the others by theirs", async () => {
    const { plate: now } = await mended({
      laneNames: [{ x: plate.lanes[1].x + 0.01, label: "crude", fraction: null }],
    });
    expect(now.lanes.map((l) => l.label)).toEqual(plate.lanes.map((l, i) => (i === 1 ? "crude" : l.label)));
    const nowhere = await mended({ laneNames: [{ x: 0.999, label: "crude", fraction: null }] });
    expect(nowhere.result.decisions?.contradictions.map((c) => c.code)).toEqual(["mended-lane-gone"]);
  });

  it("a struck spot is gone; one that a person saw is there and sure", async () => {
    const lane = plate.lanes.find((l) => l.spots.length > 0)!;
    const [spot] = lane.spots;
    const key = { lane: lane.x, rf: spot.rf, y: spot.y };
    const struck = await mended({ spots: [{ what: "spot-strike", spot: key }] });
    expect(struck.plate.lanes[lane.index - 1].spots).toHaveLength(lane.spots.length - 1);
    const rf = 0.97;
    const y = plate.origin.y - rf * (plate.origin.y - plate.front.y);
    const seen = await mended({ spots: [{ what: "spot-add", spot: { lane: lane.x, rf, y } }] });
    const added = seen.plate.lanes[lane.index - 1].spots.filter((s) => Math.abs(s.rf - rf) < 0.03);
    expect(added.map((s) => s.confidence)).toEqual([1]);
  });
});
