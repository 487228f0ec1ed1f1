import { describe, expect, it } from "vitest";
import type { RunFile, RunPlate } from "../../src/model/index.ts";
import { groupPhotos } from "../../src/pipeline/groupPhotos.ts";
import { nameParts, pairPhotos } from "../../src/pipeline/pairPhotos.ts";

const plate = (...files: string[]): RunPlate => ({
  photos: files.map((file) => ({ file, light: null, stain: null })),
  lanes: null,
  origin: null,
  front: null,
});
const run = (...plates: RunPlate[]) => ({ run: null, fractionCount: null, volumeMl: null, plates }) as RunFile;
const shape = (files: string[], r: RunFile) =>
  groupPhotos(files, r).groups.map((g) => ({
    photos: g.photos.map((p) => p.file).join(" "),
    plates: g.plates?.map((p) => `${p.listed}: ${p.shownBy.map((s) => `${s.photo}/${s.place}`).join(" ")}`),
  }));

describe("photos that the run file lists", () => {
  it("one plate under two lights is one group", () => {
    expect(shape(["a.jpg", "b.jpg", "c.jpg"], run(plate("a.jpg", "b.jpg"), plate("c.jpg")))).toEqual([
      { photos: "a.jpg b.jpg", plates: ["0: 0/0 1/0"] },
      { photos: "c.jpg", plates: ["1: 0/0"] },
    ]);
  });

  it("a photo of two plates ties them; the plates stand in it from left to right as listed", () => {
    expect(shape(["ab.jpg", "ab2.jpg"], run(plate("ab.jpg", "ab2.jpg"), plate("ab.jpg", "ab2.jpg")))).toEqual([
      { photos: "ab.jpg ab2.jpg", plates: ["0: 0/0 1/0", "1: 0/1 1/1"] },
    ]);
  });

  it("ties that meet later make one group, and every index still points at its photo", () => {
    const [group] = groupPhotos(
      ["a.jpg", "b.jpg", "c.jpg"],
      run(plate("a.jpg"), plate("b.jpg"), plate("b.jpg", "c.jpg", "a.jpg")),
    ).groups;
    expect(group.photos.map((p) => p.file)).toEqual(["a.jpg", "b.jpg", "c.jpg"]);
    expect(group.plates!.map((p) => p.shownBy.map((s) => [group.photos[s.photo].file, s.place]))).toEqual([
      [["a.jpg", 0]],
      [["b.jpg", 0]],
      [
        ["b.jpg", 1],
        ["c.jpg", 0],
        ["a.jpg", 1],
      ],
    ]);
  });

  it("how late the fractions of each plate are in the run", () => {
    const lanes = (...fractions: (number | null)[]) =>
      fractions.map((fraction) => ({ label: String(fraction), fraction }));
    const plates = [
      { ...plate("a.jpg"), lanes: lanes(null, 1, 2, 3) },
      { ...plate("b.jpg"), lanes: lanes(6, 8) },
      { ...plate("c.jpg"), lanes: lanes(null) },
      plate("d.jpg"),
    ];
    const { groups } = groupPhotos(["a.jpg", "b.jpg", "c.jpg", "d.jpg"], run(...plates));
    expect(groups.map((g) => g.plates![0].late)).toEqual([2 / 8, 7 / 8, undefined, undefined]);
  });

  it("which way up they stand: what a photo says of itself counts before what is said of all", () => {
    const sides = (r: RunFile) => groupPhotos(["a.jpg", "b.jpg"], r).groups.flatMap((g) => g.photos.map((p) => p.up));
    const own = plate("a.jpg", "b.jpg");
    const turned = { ...own, photos: [own.photos[0], { ...own.photos[1], up: "down" as const }] };
    expect(sides(run(turned))).toEqual([undefined, "down"]);
    expect(sides({ ...run(turned), up: "left" })).toEqual(["left", "down"]);
    expect(sides({ ...run(), plates: null, up: "right" })).toEqual(["right", "right"]);
  });

  it("what is missing and what is not listed is told apart", () => {
    const { groups, missing, unlisted } = groupPhotos(
      ["a.jpg", "x.jpg"],
      run(plate("a.jpg", "gone.jpg"), plate("gone.jpg")),
    );
    expect(groups).toHaveLength(1);
    expect(missing.map((p) => p.file)).toEqual(["gone.jpg"]);
    expect(unlisted).toEqual(["x.jpg"]);
  });
});

describe("photos that nobody listed", () => {
  it.each([
    ["p1-254.jpg", "p1", "254", null],
    ["Plate 2 KMnO4.png", "plate-2", "kmno4", "kmno4"],
    ["tlc_3_uv254.JPG", "tlc-3", "uv254", null],
    ["p1 365 nm.jpg", "p1", "365", null],
    ["IMG_0254.jpg", "img-0254", null, null],
    ["254.jpg", "254", null, null],
    ["stain.jpg", "stain", null, null],
  ])("%s", (file, plate, view, stain) => {
    expect(nameParts(file)).toEqual({ plate, view, stain });
  });

  it("names that differ by the light alone belong together; names that say nothing do not", () => {
    const files = ["IMG_1.jpg", "IMG_2.jpg", "p1-254.jpg", "p1-stain.jpg", "p10-254.jpg", "p1.jpg"];
    expect(pairPhotos(files)).toEqual([[0], [1], [2, 3], [4], [5]]);
  });

  it("the same light twice is not one plate", () => {
    expect(pairPhotos(["p1-254.jpg", "p1-254.png", "p1-365.jpg"])).toEqual([[0, 2], [1]]);
  });
});
