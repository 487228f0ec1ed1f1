import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { findPhotos, openRunFolder, RunFileError, readPhotoBytes } from "../../src/store/index.ts";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "run-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const put = (...names: string[]) => {
  for (const name of names) {
    mkdirSync(join(folder, name, ".."), { recursive: true });
    writeFileSync(join(folder, name), name);
  }
};
const names = async () => (await findPhotos(folder)).photos.map((p) => p.file);

describe("photos of a run folder", () => {
  it("in the folder and in plates, in the order people count", async () => {
    put("p10.jpg", "p2.JPG", "plates/p1.jpeg", "plates/P3.png", "p4.tif", "p5.TIFF", "p6.webp", "p7.HEIC", "p8.heif");
    expect(await names()).toEqual("p1.jpeg p2.JPG P3.png p4.tif p5.TIFF p6.webp p7.HEIC p8.heif p10.jpg".split(" "));
  });

  it("nothing hidden, nothing of the results, no folder named like a photo", async () => {
    put("a.jpg", ".a.jpg", "._a.jpg", "results/a.png", "other/b.jpg", "notes.txt", "run.yaml");
    mkdirSync(join(folder, "c.jpg"));
    expect(await names()).toEqual(["a.jpg"]);
  });

  it("a name in both places: the one in the folder is read, and it is said", async () => {
    put("a.jpg", "plates/a.jpg");
    const { photos, findings } = await findPhotos(folder);
    expect(photos.map((p) => p.path)).toEqual([join(folder, "a.jpg")]);
    expect(findings.map((f) => f.code)).toEqual(["photo-name-twice"]);
  });

  it("links to photos are followed; a link to nothing is said", async () => {
    put("store/real.jpg");
    symlinkSync(join(folder, "store/real.jpg"), join(folder, "linked.jpg"));
    symlinkSync(join(folder, "gone.jpg"), join(folder, "dangling.jpg"));
    const { photos, findings } = await findPhotos(folder);
    expect(photos.map((p) => p.file)).toEqual(["linked.jpg"]);
    expect(findings.map((f) => [f.code, f.where.photo])).toEqual([["photo-missing", "dangling.jpg"]]);
  });

  it("pictures of other kinds are named, not passed over in silence", async () => {
    put("a.jpg", "b.gif");
    expect((await findPhotos(folder)).findings.map((f) => f.code)).toEqual(["photo-unsupported"]);
  });

  it("no folder, and a file in its place", async () => {
    put("a.jpg");
    await expect(findPhotos(join(folder, "none"))).rejects.toMatchObject({ code: "folder-missing" });
    await expect(findPhotos(join(folder, "a.jpg"))).rejects.toMatchObject({ code: "folder-not-a-folder" });
  });
});

describe("run file and photos together", () => {
  it("without a run file", async () => {
    put("a.jpg");
    expect((await openRunFolder(folder)).run).toBeNull();
  });

  it("capitals differ: the file system's spelling counts", async () => {
    put("IMG_1.JPG");
    writeFileSync(join(folder, "run.yaml"), "plates: [{ photos: [img_1.jpg] }]\n");
    const { run, findings } = await openRunFolder(folder);
    expect(run!.plates![0].photos[0].file).toBe("IMG_1.JPG");
    expect(findings).toEqual([]);
  });

  it("a photo that is not there costs that photo alone", async () => {
    put("p1-254.jpg");
    writeFileSync(join(folder, "run.yaml"), "plates:\n  - photos:\n      - p1-254.jpg\n      - p1-245.jpg\n");
    const { run, findings } = await openRunFolder(folder);
    expect(run!.plates![0].photos).toHaveLength(2);
    expect(findings).toHaveLength(1);
    expect(findings[0].message).toBe("run.yaml line 4: p1-245.jpg is not in the folder.");
    expect(findings[0].remedy).toContain("p1-254.jpg");
  });

  it("all faults are told", async () => {
    put("a.jpg");
    writeFileSync(join(folder, "run.yaml"), "rum: 1\nplate: 2\n");
    const error = await openRunFolder(folder).catch((e) => e);
    expect(error).toBeInstanceOf(RunFileError);
    expect(error.faults).toHaveLength(2);
  });

  it.each([
    ["bytes that are no text", Buffer.from([0xff, 0xfe, 0x00, 0x41])],
    ["a picture", Buffer.from("\x89PNG\r\n\x1a\n\0\0\0", "latin1")],
  ])("%s", async (_, bytes) => {
    writeFileSync(join(folder, "run.yaml"), bytes);
    await expect(openRunFolder(folder)).rejects.toMatchObject({ code: "run-file-unreadable" });
  });
});

describe("bytes of a photo", () => {
  it("that has gone meanwhile", async () => {
    const error = await readPhotoBytes({ file: "a.jpg", path: join(folder, "a.jpg") }).catch((e) => e);
    expect(error.code).toBe("photo-missing");
    expect(error.message).not.toContain(folder);
  });
});
