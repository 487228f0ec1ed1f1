import { describe, expect, it } from "vitest";
import type { PhotoGroup } from "../../src/pipeline/group.ts";
import type { SeenPhoto } from "../../src/pipeline/lookAt.ts";
import { plateJobs } from "../../src/pipeline/requests.ts";

/** A photo that shows a plate of such a height over its width, seen straight on. */
function seen(file: string, aspect: number): SeenPhoto {
  const quad = [
    [100, 100],
    [300, 100],
    [300, 100 + 200 * aspect],
    [100, 100 + 200 * aspect],
  ] as const;
  return {
    ...{ file, light: "uv254", stain: null, picture: { width: 600, height: 800, data: new Uint8Array(0) } },
    ...{ width: 600, height: 800, scale: 1, findings: [] },
    plates: [
      {
        quad,
        sureness: 1,
        quality: { ...{ blurPx: 1, clipped: [0, 0, 0], evenness: 1 }, platePx: 200, cutOff: false, advice: null },
      },
    ],
  };
}

const group = (more: Partial<PhotoGroup> = {}): PhotoGroup => ({ photos: [], plates: null, ...more });
const said = (aspect: number, more?: Partial<PhotoGroup>) => {
  const { jobs, findings } = plateJobs(group(more), [seen("a.jpg", 1.4), seen("b.jpg", aspect)]);
  return { plates: jobs.length, words: findings.map((f) => f.message) };
};

describe("photos of which nobody said what they show", () => {
  it("are one plate where they were put together and its shape agrees, and it is said why", () => {
    expect(said(1.4)).toEqual({
      plates: 1,
      words: ["a.jpg, b.jpg are taken for photos of one plate, by their names and its shape."],
    });
    expect(said(1.4, { alike: true })).toEqual({
      plates: 1,
      words: ["a.jpg, b.jpg are taken for photos of one plate: the same things stand out on them."],
    });
  });

  it("are two where the shapes differ, and that is said", () => {
    const differ = "like one plate but differ in shape; they are read as different plates.";
    expect(said(0.8)).toEqual({ plates: 2, words: [`a.jpg, b.jpg are named ${differ}`] });
    expect(said(0.8, { alike: true })).toEqual({ plates: 2, words: [`a.jpg, b.jpg look ${differ}`] });
  });
});
