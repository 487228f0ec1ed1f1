import { readFileSync } from "node:fs";
import { crc32, deflateSync } from "node:zlib";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { decodePhoto } from "../../src/codec/index.ts";
import { PlatepoolError } from "../../src/model/index.ts";

async function faultOf(bytes: Uint8Array, name = "p1.jpg"): Promise<PlatepoolError> {
  try {
    await decodePhoto(bytes, name, { maxLongSide: 400 });
  } catch (error) {
    if (error instanceof PlatepoolError) return error;
    throw error;
  }
  throw new Error("it was decoded");
}

/** Noise, so that the compressed data fill the file and a hole in them is felt. */
function noise() {
  let s = 1;
  const data = new Uint8Array(600 * 400 * 3).map(() => {
    s = (s * 1103515245 + 12345) >>> 0;
    return s >>> 24;
  });
  return sharp(data, { raw: { width: 600, height: 400, channels: 3 } });
}

const FORMATS: [string, () => Promise<Uint8Array>][] = [
  ["JPEG", () => noise().jpeg().toBuffer()],
  ["progressive JPEG", () => noise().jpeg({ progressive: true }).toBuffer()],
  ["PNG", () => noise().png().toBuffer()],
  ["WebP", () => noise().webp().toBuffer()],
  ["TIFF", () => noise().tiff({ compression: "lzw" }).toBuffer()],
  ["HEIC", async () => readFileSync(new URL("../../fixtures/photos/heic/upright.heic", import.meta.url))],
];

describe("a file that is no photo", () => {
  it("nothing in it", async () => {
    expect((await faultOf(new Uint8Array(0))).code).toBe("photo-empty");
  });

  it.each([
    ["text", "Rf of the upper spot is about 0.4\n"],
    ["one byte", "x"],
    ["HTML", "<!doctype html><p>not found</p>"],
  ])("%s", async (_, text) => {
    expect((await faultOf(Buffer.from(text))).code).toBe("photo-not-a-picture");
  });

  it.each([
    ["SVG", '<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>', "an SVG drawing"],
    ["GIF", "GIF89a\x01\0\x01\0", "a GIF picture"],
    ["PDF", "%PDF-1.7\n", "a PDF"],
    ["AVIF", "\0\0\0\x1cftypavif\0\0\0\0avifmif1miaf", "an AVIF picture"],
    ["MP4", "\0\0\0\x18ftypmp42\0\0\0\0mp42isom", "a video"],
  ])("%s is named for what it is", async (_, text, words) => {
    const fault = await faultOf(Buffer.from(text, "latin1"));
    expect(fault.code).toBe("photo-unsupported");
    expect(fault.message).toContain(words);
  });
});

describe.each(FORMATS)("%s", (_, make) => {
  it.each([0.02, 0.3, 0.7, 0.98])("cut at %f of its length", async (part) => {
    const whole = await make();
    expect((await faultOf(whole.subarray(0, Math.floor(whole.length * part)))).code).toBe("photo-truncated");
  });

  it("half of it zeroed, as an interrupted copy leaves it", async () => {
    const bytes = new Uint8Array(await make());
    bytes.fill(0, bytes.length >> 1);
    expect((await faultOf(bytes)).code).toMatch(/^photo-(truncated|damaged)$/);
  });
});

describe("damage inside", () => {
  it.each(FORMATS.filter(([name]) => /PNG|progressive|TIFF/.test(name)))("%s", async (_, make) => {
    const bytes = new Uint8Array(await make());
    const middle = Math.floor(bytes.length * 0.5);
    for (let i = 0; i < 60; i++) bytes[middle + i] = (i * 37 + 11) & 255;
    expect((await faultOf(bytes)).code).toBe("photo-damaged");
  });
});

/** An all-black 1-bit PNG (ISO/IEC 15948), built by hand because an encoder would take its time over it. */
function hugePng(side: number): Uint8Array {
  const chunk = (type: string, data: Buffer) => {
    const body = Buffer.concat([Buffer.from(type), data]);
    const framed = Buffer.alloc(body.length + 8);
    framed.writeUInt32BE(data.length, 0);
    framed.set(body, 4);
    framed.writeUInt32BE(crc32(body), body.length + 4);
    return framed;
  };
  const header = Buffer.alloc(13);
  header.writeUInt32BE(side, 0);
  header.writeUInt32BE(side, 4);
  header[8] = 1;
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk("IHDR", header),
    chunk("IDAT", deflateSync(Buffer.alloc(side * (side / 8 + 1)))),
    chunk("IEND", Buffer.alloc(0)),
  ]);
}

describe("too large", () => {
  it("a small file of a huge picture is refused before it is decoded", async () => {
    const bytes = hugePng(16000);
    const before = process.memoryUsage.rss();
    const fault = await faultOf(bytes);
    expect(fault.code).toBe("photo-too-large");
    expect(fault.message).toContain("16000 x 16000");
    expect(process.memoryUsage.rss() - before).toBeLessThan(100e6);
  });
});

it("every message is one line that begins with the file's name and says what to do", async () => {
  const whole = await noise().jpeg().toBuffer();
  for (const bytes of [new Uint8Array(0), Buffer.from("text"), Buffer.from("GIF89a"), whole.subarray(0, 5000)]) {
    const { message } = await faultOf(bytes, "tlc 3.jpg");
    expect(message).toMatch(/^tlc 3\.jpg: [^\n]+: [^\n]+$/);
  }
});
