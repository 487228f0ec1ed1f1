import { readFileSync } from "node:fs";
import { afterEach, describe, expect, it, vi } from "vitest";
import { decodePhoto } from "../../src/codec/index.ts";

const file = (name: string) => readFileSync(new URL(`../../fixtures/photos/heic/${name}`, import.meta.url));

afterEach(() => vi.restoreAllMocks());

describe("HEIC (fixtures/photos/heic/README.md tells how each was made)", () => {
  it.each(["upright.heic", "turned-by-irot.heic", "turned-by-exif.heic", "turned-by-both.heic"])(
    "%s ends upright",
    async (name) => {
      const { picture, width, height } = await decodePhoto(file(name), name, { maxLongSide: 160 });
      expect([width, height, picture.width, picture.height]).toEqual([320, 200, 160, 100]);
      const at = (x: number, y: number) => [...picture.data.subarray((y * 160 + x) * 3, (y * 160 + x) * 3 + 3)];
      const [red, green, blue, grey] = [at(40, 25), at(120, 25), at(40, 75), at(120, 75)];
      expect(red[0]).toBeGreaterThan(red[1] + 100);
      expect(green[1]).toBeGreaterThan(green[0] + 80);
      expect(blue[2]).toBeGreaterThan(blue[0] + 100);
      expect(Math.max(...grey) - Math.min(...grey)).toBeLessThan(8);
    },
  );

  it("a rarer major brand is read all the same", async () => {
    const bytes = new Uint8Array(file("upright.heic"));
    bytes.set(Buffer.from("heim"), 8);
    expect((await decodePhoto(bytes, "burst.heic", { maxLongSide: 2000 })).width).toBe(320);
  });

  it("several at once, and the decoder's own complaints stay off the console", async () => {
    const said = [vi.spyOn(console, "log"), vi.spyOn(console, "error"), vi.spyOn(console, "warn")].map((s) =>
      s.mockReturnValue(),
    );
    const whole = file("upright.heic");
    const results = await Promise.allSettled([
      decodePhoto(whole, "a.heic", { maxLongSide: 2000 }),
      decodePhoto(whole.subarray(0, whole.length - 60), "cut.heic", { maxLongSide: 2000 }),
      decodePhoto(whole.subarray(0, 40), "cut.heic", { maxLongSide: 2000 }),
      decodePhoto(whole, "b.heic", { maxLongSide: 2000 }),
    ]);
    expect(results.map((r) => r.status)).toEqual(["fulfilled", "rejected", "rejected", "fulfilled"]);
    for (const spy of said) expect(spy).not.toHaveBeenCalled();
    console.log("");
    expect(said[0]).toHaveBeenCalledOnce();
  });
});
