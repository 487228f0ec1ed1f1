import { expect, it } from "vitest";
import { shrink } from "../../src/raster/shrink.ts";

const room = (length: number) => new Float32Array(length);

it("averages blocks and leaves out what fills none", () => {
  // 5 x 3 pixels, red = 10 x + y, in blocks of 2: two blocks in one row.
  const data = new Uint8Array(5 * 3 * 3);
  for (let y = 0; y < 3; y++) for (let x = 0; x < 5; x++) data[3 * (5 * y + x)] = 10 * x + y;
  const sketch = shrink({ width: 5, height: 3, data }, 2, room);
  expect([sketch.width, sketch.height, sketch.scale]).toEqual([2, 1, 2]);
  expect(Array.from(sketch.r)).toEqual([5.5, 25.5]);
  expect(Array.from(sketch.g)).toEqual([0, 0]);
});

it("keeps a picture that is smaller than one block", () => {
  const data = Uint8Array.of(10, 20, 30, 30, 40, 50);
  const { width, height, r, g, b } = shrink({ width: 2, height: 1, data }, 4, room);
  expect([width, height, r[0], g[0], b[0]]).toEqual([1, 1, 20, 30, 40]);
});

it("averages blocks of four alike whether rows begin at whole words or not", () => {
  const codes = Uint8Array.from({ length: 3 * 8 * 8 }, (_, i) => (97 * i + (i >> 3) * 31) & 255);
  const apart = new Uint8Array(codes.length + 1).subarray(1);
  apart.set(codes);
  const sketch = shrink({ width: 8, height: 8, data: codes }, 4, room);
  expect(shrink({ width: 8, height: 8, data: apart }, 4, room)).toEqual(sketch);
  const blue = codes.filter((_, i) => i % 3 === 2 && (i / 3) % 8 < 4 && i < 3 * 8 * 4);
  expect(sketch.b[0]).toBe(blue.reduce((sum, code) => sum + code, 0) / 16);
});
