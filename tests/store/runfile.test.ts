import { describe, expect, it } from "vitest";
import { parseRunFile } from "../../src/store/index.ts";

const WHOLE = `run: chalcone-7
fractions: { count: 24, volume_ml: 10 }
plates:
  - photos:
      - { file: p1-254.jpg, light: uv254 }
      - { file: p1-stain.jpg, light: white, stain: kmno4 }
    lanes: [crude, 1-7]
  - photos: [p2.jpg]
    lanes: 8, 10, 12-14
    origin: 0.9
    front: 0.12
`;

function run(text: string) {
  const parsed = parseRunFile(text);
  if (parsed.run === null) throw new Error(parsed.faults.join("\n"));
  return parsed;
}

function faults(text: string): readonly string[] {
  const parsed = parseRunFile(text);
  return parsed.run === null ? parsed.faults : [];
}

describe("a run file that stands", () => {
  it("is spelled out", () => {
    const { run: read, findings } = run(WHOLE);
    expect(findings).toEqual([]);
    expect([read.run, read.fractionCount, read.volumeMl]).toEqual(["chalcone-7", 24, 10]);
    const [first, second] = read.plates!;
    expect(first.photos.map((p) => [p.file, p.light, p.stain])).toEqual([
      ["p1-254.jpg", "uv254", null],
      ["p1-stain.jpg", "white", "kmno4"],
    ]);
    expect(first.lanes!.map((l) => l.label).join(" ")).toBe("crude 1 2 3 4 5 6 7");
    expect(first.lanes!.map((l) => l.fraction)).toEqual([null, 1, 2, 3, 4, 5, 6, 7]);
    expect(first.lanesLine).toBe(7);
    expect(second.photos).toEqual([{ file: "p2.jpg", line: 8, light: null, stain: null }]);
    expect(second.lanes!.map((l) => l.fraction)).toEqual([8, 10, 12, 13, 14]);
    expect([second.origin, second.front]).toEqual([0.9, 0.12]);
  });

  it.each(["", "# nothing yet\n", "run:\nfractions:\nplates:\n", "\uFEFFrun: a\n"])(
    "%j says little and is no fault",
    (text) => {
      expect(run(text).run.plates).toBeNull();
    },
  );

  it("names: numbers, capitals in lights, folders in paths", () => {
    const { run: read } = run(
      "run: 12\nplates:\n  - photos: [{ file: plates/a.jpg, light: UV365 }]\n    lanes: [SM, 3, co-spot]",
    );
    expect(read.run).toBe("12");
    expect(read.plates![0].photos[0]).toMatchObject({ file: "a.jpg", light: "uv365" });
    expect(read.plates![0].lanes!.map((l) => l.fraction)).toEqual([null, 3, null]);
  });

  it("a stain without a light means white light", () => {
    expect(run("plates: [{ photos: [{ file: a.jpg, stain: kmno4 }] }]").run.plates![0].photos[0].light).toBe("white");
  });

  it("where the front points: for the run, and for a photo that was taken otherwise", () => {
    const { run: read } = run("up: Left\nplates: [{ photos: [a.jpg, { file: b.jpg, up: down }], lanes: [1-3] }]");
    expect(read.up).toBe("left");
    expect(read.plates![0].photos.map((p) => p.up)).toEqual([undefined, "down"]);
    expect(run("up:\nplates: [{ photos: [{ file: a.jpg, up: }] }]").run).not.toHaveProperty("up");
  });

  it("one photo may show several plates", () => {
    expect(run("plates: [{ photos: [a.jpg], lanes: [1-3] }, { photos: [a.jpg], lanes: [4-6] }]").findings).toEqual([]);
  });
});

describe("doubts: the reading goes on", () => {
  it("a tube on two plates, told once, with both lines", () => {
    const { findings } = run(
      "plates:\n  - photos: [a.jpg]\n    lanes: [1-5]\n  - photos: [b.jpg]\n    lanes: [5, 6, 5]\n",
    );
    expect(findings).toHaveLength(1);
    expect(findings[0]).toMatchObject({ code: "tube-repeated", where: { fraction: 5 } });
    expect(findings[0].message).toBe("run.yaml line 5: tube 5 stands also on line 3; every lane of it counts.");
  });

  it("a count smaller than a tube that is named", () => {
    const { findings } = run("fractions:\n  count: 6\nplates: [{ photos: [a.jpg], lanes: [1-8] }]\n");
    expect(findings.map((f) => f.message)).toEqual([
      "run.yaml line 2: count is 6, but tube 8 is on a plate; 8 tubes are taken.",
    ]);
  });
});

describe("faults: one line each, with the line in the file and what to do", () => {
  it.each([
    ["no YAML", "run: a\nplates: [1, 2\nfractions: }{\n", /^run\.yaml line [23]: not valid YAML \(.+\): check/],
    ["prose", "just a note to myself", /^run\.yaml line 1: the file must hold keys such as run:/],
    ["a list at the top", "- a\n- b\n", /^run\.yaml line 1: the file must hold keys/],
    ["a tab", "run: a\nplates:\n\t- photos: [a.jpg]\n", /^run\.yaml line 3: .*tab/i],
    ["a key twice", "run: a\nrun: b\n", /^run\.yaml line 2: a key stands twice/],
    [
      "an unknown key",
      "run: a\nfracions: { count: 3 }\n",
      /^run\.yaml line 2: unknown key "fracions": did you mean "fractions"\?$/,
    ],
    [
      "an unknown key, far from all",
      "run: a\ntemperature: 20\n",
      /^run\.yaml line 2: unknown key "temperature": known here are run, fractions, plates/,
    ],
    [
      "an unknown key of a plate",
      "plates:\n  - photos: [a.jpg]\n    lane: [1-3]\n",
      /^run\.yaml line 3: unknown key "lane": did you mean "lanes"/,
    ],
    [
      "an unknown key of a photo",
      "plates:\n  - photos:\n      - { file: a.jpg, ligth: uv254 }\n",
      /^run\.yaml line 3: unknown key "ligth": did you mean "light"/,
    ],
    [
      "an unknown light",
      "plates:\n  - photos:\n      - file: a.jpg\n        light: uv\n",
      /^run\.yaml line 4: plates 1, photos 1, light must be one of uv254, uv365, white$/,
    ],
    ["a light as a number", "plates:\n  - photos: [{ file: a.jpg, light: 254 }]\n", /line 2: .*light must be one of/],
    [
      "a range backwards",
      "plates:\n  - photos: [a.jpg]\n    lanes:\n      - crude\n      - 7-1\n",
      /^run\.yaml line 5: the range 7-1 runs backwards: write 1-7/,
    ],
    [
      "an unknown side of a photo",
      "plates:\n  - photos:\n      - { file: a.jpg, up: sideways }\n",
      /^run\.yaml line 3: plates 1, photos 1, up must be one of up, left, down, right: where the solvent front points/,
    ],
    ["an unknown side of all", "run: a\nup: 90\n", /^run\.yaml line 2: up must be one of up, left, down, right: /],
    ["a range in other words", "plates: [{ photos: [a.jpg], lanes: [1..7] }]", /"1..7" is no range: write 1-7/],
    ["a tube zero", "plates: [{ photos: [a.jpg], lanes: [0, 1] }]", /0 is no tube/],
    ["half a tube", "plates: [{ photos: [a.jpg], lanes: [1.5] }]", /1.5 is no tube/],
    ["an endless range", "plates: [{ photos: [a.jpg], lanes: [1-700] }]", /1-700 is longer than any plate/],
    ["an empty lane", "plates: [{ photos: [a.jpg], lanes: [crude, , 2] }]", /line 1: /],
    ["a lane that is a list", "plates: [{ photos: [a.jpg], lanes: [[1, 2]] }]", /lanes 1 must be a tube's number/],
    ["a count in words", "fractions: { count: many }", /fractions, count must be a whole number/],
    ["a volume below zero", "fractions: { volume_ml: -2 }", /volume_ml must be above 0/],
    ["no photos", "plates:\n  - lanes: [1-3]\n", /^run\.yaml line 2: plates 1, photos must be the list/],
    [
      "a photo twice on a plate",
      "plates:\n  - photos: [a.jpg, plates/a.jpg]\n",
      /^run\.yaml line 2: a\.jpg is listed twice for one plate/,
    ],
    ["a photo elsewhere", "plates:\n  - photos: [../a.jpg]\n", /line 2: "\.\.\/a\.jpg" is outside the run folder/],
    ["an origin off the plate", "plates: [{ photos: [a.jpg], origin: 90 }]", /plates 1, origin .*1/],
    [
      "front below origin",
      "plates: [{ photos: [a.jpg], origin: 0.1, front: 0.9 }]",
      /front \(0.9\) lies below the origin/,
    ],
    [
      "a bomb of aliases",
      `a: &a [x,x,x,x,x,x,x,x,x]\n${"bcdefgh"
        .split("")
        .map((k, i) => `${k}: &${k} [${Array(9).fill(`*${"abcdefgh"[i]}`).join(",")}]`)
        .join("\n")}`,
      /aliases/,
    ],
  ])("%s", (_, text, words) => {
    const said = faults(text);
    expect(said.length).toBeGreaterThan(0);
    expect(said.some((s) => words.test(s))).toBe(true);
    for (const line of said) expect(line).toMatch(/^run\.yaml line \d+: [^\n]+$/);
  });

  it("all of them, not the first alone", () => {
    const said = faults(
      "rum: a\nplates:\n  - photos: [{ file: a.jpg, light: green }]\n    lanes: [1-3]\n    orign: 0.9\n",
    );
    expect(said).toHaveLength(3);
  });
});
