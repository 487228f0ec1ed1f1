import sharp, { type Sharp } from "sharp";
import { describe, expect, it } from "vitest";
import { decodePhoto } from "../../src/codec/index.ts";
import type { Picture } from "../../src/raster/picture.ts";

/** Four corners told apart by colour: red, green on top; blue, grey below. */
const W = 240;
const H = 160;
const CORNERS = [
  [200, 30, 30],
  [30, 160, 40],
  [40, 50, 190],
  [120, 120, 120],
];

function card(alpha?: number): Sharp {
  const channels = alpha === undefined ? 3 : 4;
  const data = new Uint8Array(W * H * channels);
  for (let y = 0; y < H; y++)
    for (let x = 0; x < W; x++) {
      const colour = CORNERS[(y < H / 2 ? 0 : 2) + (x < W / 2 ? 0 : 1)];
      data.set(alpha === undefined ? colour : [...colour, alpha], (y * W + x) * channels);
    }
  return sharp(data, { raw: { width: W, height: H, channels } });
}

function at(picture: Picture, u: number, v: number): number[] {
  const i = (Math.floor(v * picture.height) * picture.width + Math.floor(u * picture.width)) * 3;
  return [...picture.data.subarray(i, i + 3)];
}

function expectCard(picture: Picture, within = 6): void {
  const found = [at(picture, 0.25, 0.25), at(picture, 0.75, 0.25), at(picture, 0.25, 0.75), at(picture, 0.75, 0.75)];
  for (const [i, colour] of found.entries())
    for (const c of [0, 1, 2]) expect(Math.abs(colour[c] - CORNERS[i][c])).toBeLessThanOrEqual(within);
}

const FULL = { maxLongSide: 2000 };

describe("formats", () => {
  it.each([
    ["JPEG", () => card().jpeg({ quality: 95 })],
    ["progressive JPEG", () => card().jpeg({ quality: 95, progressive: true })],
    ["PNG", () => card().png()],
    ["palette PNG", () => card().png({ palette: true })],
    ["16-bit PNG", () => card().toColourspace("rgb16").png()],
    ["TIFF in strips", () => card().tiff({ compression: "lzw" })],
    ["TIFF in tiles", () => card().tiff({ compression: "deflate", tile: true, tileWidth: 64, tileHeight: 64 })],
    ["TIFF, uncompressed", () => card().tiff({ compression: "none" })],
    ["16-bit TIFF", () => card().toColourspace("rgb16").tiff({ compression: "lzw" })],
    ["WebP", () => card().webp({ quality: 95 })],
    ["lossless WebP", () => card().webp({ lossless: true })],
  ])("%s", async (_, make) => {
    const photo = await decodePhoto(await make().toBuffer(), "photo", FULL);
    expect([photo.width, photo.height, photo.scale]).toEqual([W, H, 1]);
    expect([photo.picture.width, photo.picture.height, photo.picture.data.length]).toEqual([W, H, W * H * 3]);
    expectCard(photo.picture);
  });

  it("grey pictures of 8 and 16 bit become three equal channels", async () => {
    const grey = new Uint8Array(W * H).map((_, i) => i % 256);
    const image = () => sharp(grey, { raw: { width: W, height: H, channels: 1 } });
    for (const bytes of [
      await image().png().toBuffer(),
      await image().toColourspace("b-w").jpeg().toBuffer(),
      await image().toColourspace("grey16").tiff().toBuffer(),
    ]) {
      const { picture } = await decodePhoto(bytes, "grey", FULL);
      const [r, g, b] = at(picture, 0.5, 0.5);
      expect([g, b]).toEqual([r, r]);
      expect(Math.abs(r - grey[(H / 2) * W + W / 2])).toBeLessThanOrEqual(4);
    }
  });

  it("an opaque alpha channel changes nothing", async () => {
    expectCard((await decodePhoto(await card(255).png().toBuffer(), "a.png", FULL)).picture, 1);
  });

  it("a transparent border becomes neutral grey, so that a cut-out plate keeps its outline", async () => {
    const bytes = await card(255)
      .extend({ top: 40, bottom: 40, left: 40, right: 40, background: { r: 255, g: 255, b: 255, alpha: 0 } })
      .png()
      .toBuffer();
    const { picture } = await decodePhoto(bytes, "cut-out.png", FULL);
    expect(at(picture, 0.02, 0.02)).toEqual([128, 128, 128]);
  });

  it("CMYK becomes RGB of the same look", async () => {
    const bytes = await card().toColourspace("cmyk").jpeg({ quality: 95 }).toBuffer();
    expect((await sharp(bytes).metadata()).space).toBe("cmyk");
    const { picture } = await decodePhoto(bytes, "press.jpg", FULL);
    const [red, , , grey] = [at(picture, 0.25, 0.25), 0, 0, at(picture, 0.75, 0.75)];
    expect(red[0]).toBeGreaterThan(red[1] + 80);
    for (const c of grey) expect(Math.abs(c - 120)).toBeLessThan(20);
  });

  it("a picture of another extension than its bytes is read by its bytes", async () => {
    expectCard((await decodePhoto(await card().png().toBuffer(), "mislabelled.jpg", FULL)).picture, 1);
  });
});

describe("colour profiles", () => {
  /** Vivid green as a phone photographs a plate at 254 nm: outside sRGB, inside Display P3. */
  const vivid = () => {
    const data = new Uint8Array(64 * 64 * 3);
    for (let i = 0; i < data.length; i += 3) data.set([60, 230, 80], i);
    return sharp(data, { raw: { width: 64, height: 64, channels: 3 } });
  };

  it("Display P3 is taken as it stands: the same transfer curve, and no channel clipped", async () => {
    // Encoding through sharp converts; take the P3 profile from one file and its pixels as converted.
    const bytes = await vivid().withIccProfile("p3").png().toBuffer();
    const stored = await sharp(bytes, { ignoreIcc: true }).raw().toBuffer();
    const { picture } = await decodePhoto(bytes, "p3.png", FULL);
    expect([...picture.data.subarray(0, 3)]).toEqual([...stored.subarray(0, 3)]);
  });

  it("an sRGB profile changes nothing", async () => {
    const { picture } = await decodePhoto(await vivid().withIccProfile("srgb").png().toBuffer(), "s.png", FULL);
    expect([...picture.data.subarray(0, 3)]).toEqual([60, 230, 80]);
  });
});

describe("orientation", () => {
  it.each([1, 2, 3, 4, 5, 6, 7, 8])("EXIF orientation %i ends upright", async (orientation) => {
    // The inverse of each orientation, so that a right reader sees the card again (CP-3451, tag 0x0112).
    const upright = await card().png().toBuffer();
    const swap = orientation > 4;
    const data = new Uint8Array(W * H * 3);
    const raw = await sharp(upright).raw().toBuffer();
    const [w, h] = swap ? [H, W] : [W, H];
    for (let y = 0; y < h; y++)
      for (let x = 0; x < w; x++) {
        // Where the stored pixel (x, y) is shown.
        const [X, Y] = (
          [
            [0, 0],
            [x, y],
            [W - 1 - x, y],
            [W - 1 - x, H - 1 - y],
            [x, H - 1 - y],
            [y, x],
            [W - 1 - y, x],
            [W - 1 - y, H - 1 - x],
            [y, H - 1 - x],
          ] as const
        )[orientation];
        for (let c = 0; c < 3; c++) data[(y * w + x) * 3 + c] = raw[(Y * W + X) * 3 + c];
      }
    const stored = sharp(data, { raw: { width: w, height: h, channels: 3 } });
    for (const bytes of [
      await stored.clone().withMetadata({ orientation }).jpeg({ quality: 95 }).toBuffer(),
      await stored.clone().withMetadata({ orientation }).tiff().toBuffer(),
      await stored.clone().withMetadata({ orientation }).webp({ quality: 95 }).toBuffer(),
    ]) {
      for (const maxLongSide of [2000, 120, 60]) {
        const photo = await decodePhoto(bytes, "turned", { maxLongSide });
        expect([photo.width, photo.height]).toEqual([W, H]);
        expect(photo.picture.width).toBe(Math.round(W / photo.scale));
        expectCard(photo.picture, 8);
      }
    }
  });
});

describe("size", () => {
  it("is no larger than asked for, and scale leads back to the original", async () => {
    const big = await card().resize(3001, 2003, { fit: "fill" }).jpeg().toBuffer();
    const { picture, width, height, scale } = await decodePhoto(big, "big.jpg", { maxLongSide: 1000 });
    expect([width, height]).toEqual([3001, 2003]);
    expect([picture.width, picture.height]).toEqual([1000, 667]);
    expect(picture.width * scale).toBeCloseTo(3001, 6);
    expectCard(picture);
  });

  it("fine lines keep their mean: nothing overshoots", async () => {
    const lines = new Uint8Array(800 * 800).map((_, i) => (i % 800 === 400 ? 40 : 200));
    const bytes = await sharp(lines, { raw: { width: 800, height: 800, channels: 1 } })
      .png()
      .toBuffer();
    const { picture } = await decodePhoto(bytes, "lines.png", { maxLongSide: 200 });
    expect(Math.max(...picture.data)).toBeLessThanOrEqual(200);
  });
});
