import { describe, expect, it } from "vitest";
import { encodePng } from "../../src/codec/index.ts";
import { PlatepoolError } from "../../src/model/index.ts";
import { readGroup } from "../../src/pipeline/index.ts";

const group = { photos: [{ file: "a.png", light: "uv254", stain: null }], plates: null } as const;
const read = (load: () => Promise<Uint8Array>) => readGroup(group, load, { pictures: false });

describe("a photo that cannot be read costs itself alone", () => {
  it("where it shows no plate", async () => {
    const grey = { width: 300, height: 200, data: new Uint8Array(300 * 200 * 3).fill(120) };
    const { photos, plates, crashes } = await read(() => encodePng(grey));
    expect(photos).toMatchObject([{ file: "a.png", light: "uv254", width: 300, height: 200, quality: null }]);
    expect(photos[0].reason).toMatch(/plate/);
    expect([plates, crashes]).toEqual([[], []]);
  });

  it("where it cannot be opened: the reason is the error's, without the name that stands beside it", async () => {
    const { photos, crashes } = await read(async () => {
      throw new PlatepoolError("photo-missing", "a.png: the photo has gone: put it back");
    });
    expect(photos[0].reason).toBe("the photo has gone: put it back");
    expect(crashes).toEqual([]);
  });

  it("where the program itself fails: plain words for the user, the stack for those who look for it", async () => {
    const { photos, crashes } = await read(async () => {
      throw new TypeError("x is not a function");
    });
    expect(photos[0].reason).not.toMatch(/TypeError|function|at /);
    expect(crashes[0]).toContain("x is not a function");
  });
});
