import { describe, expect, it } from "vitest";
import {
  describeAct,
  findPlate,
  judgeAct,
  plateKeyOf,
  replay,
  sameComponent,
  sameLane,
  sameSpot,
} from "../../src/decisions/index.ts";
import { type Act, type Mending, NO_DECISIONS, type Quad } from "../../src/model/index.ts";
import { drawnResult, journal } from "./sampleRun.ts";

const READ = drawnResult("AABB");
const PLATE = { photos: ["p1.jpg"], place: 0 };
const mend = (mending: Mending): Act => ({ kind: "mend", mending });
const lane = (x: number, fraction: number | null = 7) => ({
  x,
  label: fraction === null ? "crude" : String(fraction),
  fraction,
});
const spot = (rf: number, at = 0.2) => ({ lane: at, rf, y: 0.9 - 0.8 * rf });
const corners = (dx: number): Quad => [
  [10 + dx, 10],
  [800, 10],
  [800, 1100],
  [10, 1100],
];

describe("what mendings come to", () => {
  const fold = (...mendings: Mending[]) => replay(journal(...mendings.map(mend))).decisions;

  it("the last word on each thing counts, plate by plate", () => {
    const other = { photos: ["p2.jpg"], place: 0 };
    const { plates } = fold(
      { what: "origin", plate: PLATE, y: 0.9 },
      { what: "front", plate: other, y: 0.1 },
      { what: "origin", plate: PLATE, y: 0.88 },
      { what: "corners", plate: PLATE, photo: "p1.jpg", corners: corners(0) },
      { what: "corners", plate: PLATE, photo: "p1.jpg", corners: corners(5) },
    );
    expect(plates.map((p) => [p.plate.photos[0], p.origin, p.front])).toEqual([
      ["p1.jpg", 0.88, null],
      ["p2.jpg", null, 0.1],
    ]);
    expect(plates[0].corners).toEqual([{ photo: "p1.jpg", corners: corners(5) }]);
  });

  it("two plates of one photo are two, by their place", () => {
    expect(
      fold({ what: "origin", plate: PLATE, y: 0.9 }, { what: "origin", plate: { ...PLATE, place: 1 }, y: 0.8 }).plates,
    ).toHaveLength(2);
  });

  it("a plate is found again when another photo of it has come", () => {
    const both = { photos: ["p1.jpg", "p1-stain.jpg"], place: 0 };
    const { plates } = fold({ what: "origin", plate: PLATE, y: 0.9 }, { what: "front", plate: both, y: 0.1 });
    expect(plates).toHaveLength(1);
    expect(plates[0].plate.photos).toEqual(["p1.jpg", "p1-stain.jpg"]);
    expect(findPlate(READ, both)?.id).toBe("P1");
    expect(plateKeyOf(READ, READ.plates[0])).toEqual(PLATE);
    expect(findPlate(READ, { photos: ["p9.jpg"], place: 0 })).toBeNull();
  });

  it("lanes laid out by hand carry their names; a name said later of one lane is kept apart, the last one", () => {
    const { plates } = fold(
      { what: "lane-name", plate: PLATE, lane: lane(0.2) },
      { what: "lanes", plate: PLATE, done: "move", lanes: [lane(0.2, 1), lane(0.5, 2)] },
      { what: "lane-name", plate: PLATE, lane: lane(0.5, 3) },
      { what: "lane-name", plate: PLATE, lane: lane(0.502, null) },
    );
    expect(plates[0].lanes).toHaveLength(2);
    expect(plates[0].laneNames).toEqual([lane(0.502, null)]);
  });

  it("spots and components keep their order", () => {
    const { plates, components } = fold(
      { what: "spot-add", plate: PLATE, spot: spot(0.7) },
      { what: "spot-strike", plate: PLATE, spot: spot(0.7) },
      { what: "components-merge", rf: [0.55, 0.37] },
      { what: "component-split", rf: 0.4, at: 0.38 },
    );
    expect(plates[0].spots.map((s) => s.what)).toEqual(["spot-add", "spot-strike"]);
    expect(components.map((c) => c.what)).toEqual(["components-merge", "component-split"]);
  });
});

describe("mendings that cannot be", () => {
  it.each<[string, Mending, RegExp]>([
    [
      "a plate nobody sees",
      { what: "origin", plate: { photos: ["x.jpg"], place: 0 }, y: 0.9 },
      /x\.jpg: shows no such plate/,
    ],
    ["a front under the origin", { what: "front", plate: PLATE, y: 0.95 }, /front lies above the origin/],
    ["an origin off the plate", { what: "origin", plate: PLATE, y: 1.4 }, /on the plate/],
    ["no lane", { what: "lanes", plate: PLATE, done: "strike", lanes: [] }, /one lane at least/],
    ["lanes crossed", { what: "lanes", plate: PLATE, done: "move", lanes: [lane(0.5), lane(0.2, 8)] }, /left to right/],
    ["a lane off the plate", { what: "lanes", plate: PLATE, done: "add", lanes: [lane(1.5)] }, /lies on the plate/],
    ["half a tube", { what: "lane-name", plate: PLATE, lane: { x: 0.2, label: "7", fraction: 7.5 } }, /whole number/],
    ["a name where no lane is", { what: "lane-name", plate: PLATE, lane: lane(0.95) }, /no lane stands there/],
    [
      "a struck spot that is not there",
      { what: "spot-strike", plate: PLATE, spot: spot(0.2) },
      /lane 1 shows no spot at Rf 0\.20/,
    ],
    [
      "a spot beyond the front",
      { what: "spot-add", plate: PLATE, spot: { lane: 0.2, rf: 1.4, y: 0.5 } },
      /between origin and front/,
    ],
    [
      "corners crossed",
      { what: "corners", plate: PLATE, photo: "p1.jpg", corners: [...corners(0)].reverse() as unknown as Quad },
      /go round/,
    ],
    [
      "corners of another photo",
      { what: "corners", plate: PLATE, photo: "p2.jpg", corners: corners(0) },
      /no photo of this plate/,
    ],
    ["corners far outside", { what: "corners", plate: PLATE, photo: "p1.jpg", corners: corners(-2000) }, /far outside/],
    ["a component nobody sees", { what: "component-split", rf: 0.9, at: 0.9 }, /no component stands at Rf 0\.90/],
    ["one component twice", { what: "components-merge", rf: [0.55, 0.56] }, /two components/],
  ])("%s", (_, mending, words) => {
    expect(() => judgeAct(mend(mending), NO_DECISIONS, READ, null)).toThrow(words);
  });

  it.each<[string, Mending, string]>([
    [
      "corners",
      { what: "corners", plate: PLATE, photo: "p1.jpg", corners: corners(0) },
      "p1.jpg: corners of the plate moved",
    ],
    ["origin", { what: "origin", plate: PLATE, y: 0.85 }, "p1.jpg: origin moved"],
    [
      "lanes",
      { what: "lanes", plate: PLATE, done: "add", lanes: [lane(0.2), lane(0.5, 8)] },
      "p1.jpg: lane added; 2 lanes",
    ],
    ["a lane's name", { what: "lane-name", plate: PLATE, lane: lane(0.21) }, "p1.jpg: a lane is tube 7"],
    ["a spot", { what: "spot-strike", plate: PLATE, spot: spot(0.54) }, "p1.jpg: spot struck at Rf 0.54"],
    [
      "a moved spot",
      { what: "spot-move", plate: PLATE, spot: spot(0.54), to: spot(0.5) },
      "p1.jpg: spot moved from Rf 0.54 to Rf 0.50",
    ],
    ["components", { what: "components-merge", rf: [0.55, 0.37] }, "Rf 0.55 and Rf 0.37 count as one component"],
  ])("%s that can be pass, and are told in words", (_, mending, words) => {
    expect(() => judgeAct(mend(mending), NO_DECISIONS, READ, null)).not.toThrow();
    expect(describeAct(replay(journal(mend(mending))).history[0])).toBe(words);
  });
});

describe("the same thing in another reading", () => {
  it("is the nearest spot, by Rf or by its height, not a far one", () => {
    const spots = [
      { rf: 0.3, y: 0.66 },
      { rf: 0.34, y: 0.63 },
    ];
    expect(sameSpot(spots, { lane: 0, rf: 0.335, y: 0.63 })).toBe(1);
    // Origin and front were mended: the Rf is another, the height the same.
    expect(sameSpot(spots, { lane: 0, rf: 0.5, y: 0.661 })).toBe(0);
    expect(sameSpot(spots, { lane: 0, rf: 0.5, y: 0.2 })).toBeNull();
  });

  it("is the lane within half a lane's distance, the component within 0.04", () => {
    const lanes = [0.2, 0.4, 0.6].map((x) => ({ x }));
    expect([sameLane(lanes, 0.49), sameLane(lanes, 0.75), sameLane([{ x: 0.5 }], 0.7)]).toEqual([1, null, 0]);
    expect([sameComponent([{ rf: 0.5 }, { rf: 0.4 }], 0.44), sameComponent([{ rf: 0.5 }], 0.55)]).toEqual([1, null]);
  });
});
