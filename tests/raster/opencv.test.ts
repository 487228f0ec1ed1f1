import { expect, it } from "vitest";
import { connectedPatches } from "../../src/raster/components.ts";
import { withMats } from "../../src/raster/opencv.ts";

it("loading OpenCV leaves the process as it was", () => {
  const count = () => process.listenerCount("uncaughtException") + process.listenerCount("unhandledRejection");
  const before = count();
  withMats((cv, keep) => keep(new cv.Mat()));
  expect(count()).toBe(before);
});

it("frees what was kept, also when the work throws", () => {
  const deleted: string[] = [];
  const thing = (name: string) => ({ delete: () => void deleted.push(name) });
  expect(() =>
    withMats((_cv, keep) => {
      keep(thing("a"));
      keep(thing("b"));
      throw new Error("stop");
    }),
  ).toThrow("stop");
  expect(deleted).toEqual(["b", "a"]);
});

it("tells OpenCV's own complaints in words", () => {
  expect(() =>
    withMats((cv, keep) => {
      const { cvtColor } = cv as unknown as { cvtColor: (from: unknown, to: unknown, code: number) => void };
      cvtColor(keep(new cv.Mat()), keep(new cv.Mat()), 6);
    }),
  ).toThrow(/OpenCV: .*\w{4}/s);
});

it("does not grow OpenCV's heap over many calls", () => {
  const heap = () => withMats((cv) => (cv as unknown as { HEAPU8: Uint8Array }).HEAPU8.length);
  const mask = new Uint8Array(512 * 512).fill(255);
  connectedPatches(mask, 512, 512, 1);
  const before = heap();
  for (let i = 0; i < 200; i++) connectedPatches(mask, 512, 512, 1);
  expect(heap()).toBe(before);
});
