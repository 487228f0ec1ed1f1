import { describe, expect, it } from "vitest";
import type { Light, PlateMending } from "../../src/model/index.ts";
import type { GroupReading, PhotoGroup } from "../../src/pipeline/group.ts";
import { readJoined } from "../../src/pipeline/joinLooks.ts";
import { makePlane } from "../../src/raster/picture.ts";
import { groupOf, plate } from "./sampleReadings.ts";

/** What stands out: specks that lie elsewhere for each kind of plate, and `common` ones that lie alike on all. */
function lookOf(kind: number, common = 0) {
  const look = makePlane(150, 200);
  for (let k = 0; k < 30; k++) look.data[(7919 * (k + 1) + 1301 * kind * (k + 3)) % look.data.length] = 2;
  for (let k = 0; k < common; k++) look.data[(104_729 * (k + 1)) % look.data.length] = 2;
  return look;
}

interface Photo {
  readonly file: string;
  readonly light: Light;
  readonly kind: number;
  readonly common?: number;
  readonly aspect?: number;
}

const shown = ({ file, light, kind, common, aspect = 4 / 3 }: Photo) =>
  groupOf(
    { ...plate(file, [[], []], light), aspect },
    { look: lookOf(kind, common), key: { photos: [file], place: 0 } },
  );
const groupWith = (file: string, more: Partial<PhotoGroup> = {}): PhotoGroup => ({
  photos: [{ file, light: null, stain: null }],
  plates: null,
  looks: true,
  ...more,
});

/** Reads the photos as a run; answers with the photos of its groups, and which groups were read the second time. */
async function joined(photos: readonly Photo[], more: Partial<PhotoGroup> = {}, platesTogether = 1) {
  const again: string[] = [];
  const readings = new Map<string, GroupReading>(photos.map((photo) => [photo.file, shown(photo)]));
  const { groups, readings: read } = await readJoined(
    photos.map(({ file }) => groupWith(file, more)),
    async (some) =>
      some.map(({ photos: [first, ...others], alike }) => {
        const one = readings.get(first.file)!;
        if (others.length === 0) return one;
        again.push(`${alike ? "alike" : "not"}: ${[first, ...others].map((p) => p.file).join(" ")}`);
        return { ...one, plates: Array.from({ length: platesTogether }, () => one.plates[0]) };
      }),
  );
  expect(read).toHaveLength(groups.length);
  return { groups: groups.map((g) => g.photos.map((p) => p.file).join(" ")), again };
}

const A254: Photo = { file: "IMG_1.jpg", light: "uv254", kind: 1 };
const A365: Photo = { file: "IMG_2.jpg", light: "uv365", kind: 1 };
const B254: Photo = { file: "IMG_3.jpg", light: "uv254", kind: 2 };
const B365: Photo = { file: "IMG_4.jpg", light: "uv365", kind: 2 };

describe("photos that nobody listed", () => {
  it("are read together where the same things stand out under another light, in the place of the first", async () => {
    const { groups, again } = await joined([A254, B254, A365, B365]);
    expect(groups).toEqual(["IMG_1.jpg IMG_2.jpg", "IMG_3.jpg IMG_4.jpg"]);
    expect(again).toEqual(["alike: IMG_1.jpg IMG_2.jpg", "alike: IMG_3.jpg IMG_4.jpg"]);
  });

  it("are read together under three lights, and never two under one", async () => {
    const white: Photo = { file: "IMG_5.jpg", light: "white", kind: 1 };
    expect((await joined([A254, A365, white])).groups).toEqual(["IMG_1.jpg IMG_2.jpg IMG_5.jpg"]);
    expect((await joined([A254, { ...B254, kind: 1 }])).groups).toHaveLength(2);
  });

  it("stay apart where other things stand out, or the plate has another shape", async () => {
    expect((await joined([A254, B365])).groups).toHaveLength(2);
    expect((await joined([A254, { ...A365, aspect: 1.17 }])).groups).toHaveLength(2);
    // A narrow plate's shape is told less well: plainly alike, it may differ more.
    expect((await joined([A254, { ...A365, aspect: 1.2 }])).groups).toHaveLength(1);
    const less = [A254, { ...A365, kind: 2, aspect: 1.23 }].map((photo) => ({ ...photo, common: 35 }));
    expect((await joined(less)).groups).toHaveLength(2);
    expect((await joined(less.map((photo, i) => ({ ...photo, aspect: i === 0 ? 4 / 3 : 1.25 })))).groups).toHaveLength(
      1,
    );
  });

  it("each go to the one that is most alike, though lanes and spots stand at the same places on all", async () => {
    const run = [A254, A365, B254].map((photo) => ({ ...photo, common: 60 }));
    expect((await joined(run)).groups).toEqual(["IMG_1.jpg IMG_2.jpg", "IMG_3.jpg"]);
    // Without its own under the other light, what it shares with them would do.
    expect((await joined([run[1], run[2]])).groups).toHaveLength(1);
  });

  it("need be less alike where their names are of one plate", async () => {
    const faint = { ...A365, kind: 2, common: 20 };
    const run = [{ ...A254, common: 20 }, faint];
    expect((await joined(run)).groups).toHaveLength(2);
    const named = [
      { ...run[0], file: "01a.jpg" },
      { ...faint, file: "01b.jpg" },
    ];
    expect((await joined(named)).groups).toEqual(["01a.jpg 01b.jpg"]);
  });

  it("go with those whose names say so, however alike others are", async () => {
    const common = { kind: 3, common: 60 };
    const crossed = [
      { ...A254, file: "03a.jpg", common: 20 },
      { ...A365, file: "03b.jpg", kind: 2, common: 20 },
      { ...B365, file: "06b.jpg", kind: 1, common: 20 },
    ];
    expect((await joined(crossed)).groups).toEqual(["03a.jpg 03b.jpg", "06b.jpg"]);
    const told = [
      { ...A254, ...common, file: "p1-254.jpg" },
      { ...A365, ...common, file: "p2-365.jpg" },
    ];
    expect((await joined(told)).groups).toHaveLength(2);
  });

  it("of several plates are alike in the mean, each possibly the same", async () => {
    const two = (photo: Photo, other: Partial<Photo>) => {
      const [one, next] = [shown(photo), shown({ ...photo, ...other })];
      return { ...one, plates: [...one.plates, ...next.plates] };
    };
    const read = (right: Partial<Photo>) => async (some: readonly PhotoGroup[]) =>
      some.map(({ photos }) =>
        two(photos[0].file === A254.file ? A254 : A365, photos[0].file === A254.file ? {} : right),
      );
    const groups = [groupWith(A254.file), groupWith(A365.file)];
    expect((await readJoined(groups, read({ kind: 2 }))).groups).toHaveLength(1);
    expect((await readJoined(groups, read({ aspect: 1 }))).groups).toHaveLength(2);
  });

  it("stay as they were read where together they show more plates or fewer", async () => {
    expect((await joined([A254, A365], {}, 2)).groups).toEqual(["IMG_1.jpg", "IMG_2.jpg"]);
  });

  it("stay as a person mended them: one of them as a plate of its own, or both as one", async () => {
    const mending = (...photos: string[]): PlateMending => ({
      ...{ plate: { photos, place: 0 }, corners: [], origin: null, front: null },
      ...{ lanes: null, laneNames: [], spots: [] },
    });
    expect((await joined([A254, A365], { mendings: [mending("IMG_1.jpg")] })).groups).toHaveLength(2);
    const both = { mendings: [mending("IMG_1.jpg", "IMG_4.jpg")] };
    expect((await joined([A254, B365], both)).groups).toHaveLength(1);
    // Also where a photo came since whose name would tell them apart.
    const since = [{ ...A254, file: "IMG_1a.jpg" }, B365, { ...B254, file: "IMG_1b.jpg", light: "white" as const }];
    const asMended = { mendings: [mending("IMG_1a.jpg", "IMG_4.jpg")] };
    expect((await joined(since, asMended)).groups).toContain("IMG_1a.jpg IMG_4.jpg");
  });

  it("are read once where none are alike, or where their plates are listed", async () => {
    expect((await joined([A254, B365])).again).toEqual([]);
    expect((await joined([A254, A365], { looks: false })).again).toEqual([]);
  });
});
