import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { pictureShelf } from "../../../src/review/server/pictures.ts";
import type { PhotoFile } from "../../../src/store/index.ts";
import { ask, houseApp } from "../support/house.ts";

const JPEG = Buffer.from([0xff, 0xd8, 0xff, 0xe0, 1, 2, 3]);
const root = mkdtempSync(join(tmpdir(), "files-"));
const folder = join(root, "run");
const named = (file: string, ...inside: string[]): PhotoFile => ({ file, path: join(folder, ...inside, file) });
const photos = [
  named("p1.jpg"),
  named("p2.jpg", "plates"),
  named("out.jpg"),
  named("in.jpg"),
  named("far.jpg", "away"),
  named("page.jpg"),
  named("p3.heic"),
  named("gone.jpg"),
  named('<img src=x onerror="x">.jpg'),
];

beforeAll(() => {
  mkdirSync(join(folder, "plates"), { recursive: true });
  mkdirSync(join(root, "elsewhere"));
  for (const file of [
    "p1.jpg",
    "plates/p2.jpg",
    "../secret.jpg",
    "../elsewhere/far.jpg",
    '<img src=x onerror="x">.jpg',
  ])
    writeFileSync(join(folder, file), JPEG);
  writeFileSync(join(folder, "page.jpg"), "<script>alert(1)</script>");
  writeFileSync(join(folder, "p3.heic"), Buffer.from("\0\0\0\x18ftypheic", "latin1"));
  writeFileSync(join(folder, "run.yaml"), "run: secret");
  symlinkSync(join(root, "secret.jpg"), join(folder, "out.jpg"));
  symlinkSync(join(folder, "p1.jpg"), join(folder, "in.jpg"));
  symlinkSync(join(root, "elsewhere"), join(folder, "away"));
});
afterAll(() => rmSync(root, { recursive: true }));

const app = () => houseApp({ folder, photos: () => photos });
const get = (file: string) => ask(app(), `/original/${encodeURIComponent(file)}`);

describe("photos as they were taken", () => {
  it("come with their own type, from the folder and from plates", async () => {
    for (const file of ["p1.jpg", "p2.jpg", "in.jpg", '<img src=x onerror="x">.jpg']) {
      const answer = await get(file);
      expect(answer.status, file).toBe(200);
      expect(answer.headers.get("content-type")).toBe("image/jpeg");
      expect(Buffer.from(await answer.arrayBuffer())).toEqual(JPEG);
    }
  });

  it("a link that leads out of the run folder is not followed, neither a file's nor a folder's", async () => {
    for (const file of ["out.jpg", "far.jpg"]) expect((await get(file)).status, file).toBe(403);
  });

  it("no path leads out, however it is written", async () => {
    const paths = [
      "../secret.jpg",
      "..%2fsecret.jpg",
      "..%2Fsecret.jpg",
      "%2e%2e/secret.jpg",
      "%2e%2e%2fsecret.jpg",
      "..%5csecret.jpg",
      "..%252fsecret.jpg",
      "%2fetc%2fpasswd",
      "plates%2f..%2f..%2fsecret.jpg",
      "run.yaml",
      "p1.jpg%00.png",
    ];
    for (const path of paths) expect((await ask(app(), `/original/${path}`)).status, path).toBe(404);
  });

  it("what is no picture that browsers show is not sent, whatever its name says", async () => {
    for (const file of ["page.jpg", "p3.heic"]) expect((await get(file)).status, file).toBe(415);
    expect((await get("gone.jpg")).status).toBe(404);
  });
});

describe("pictures of the reading", () => {
  it("are found by their digest alone, and still once after a new reading", async () => {
    const pictures = pictureShelf();
    const shown = (bytes: Uint8Array) =>
      pictures.show({ straightened: [], photos: [{ file: "p1.jpg", width: 2, height: 1, bytes }] });
    const { href } = shown(JPEG).photos[0];
    const house = houseApp({ pictures });
    expect((await ask(house, href)).status).toBe(200);
    shown(Buffer.from([1]));
    expect((await ask(house, href)).status).toBe(200);
    shown(Buffer.from([2]));
    expect((await ask(house, href)).status).toBe(404);
    expect((await ask(house, "/picture/..%2f..%2fetc%2fpasswd")).status).toBe(404);
  });
});
