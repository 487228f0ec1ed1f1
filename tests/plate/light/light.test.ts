import { describe, expect, it } from "vitest";
import { recogniseLight } from "../../../src/plate/light/index.ts";
import { canvas, expose, layer, paintQuad, tilted } from "../locate/scene.ts";

type Colour = readonly [number, number, number];

function lightOf(ground: Colour, spot: Colour, bench: Colour) {
  const on = canvas(500, 400, () => bench);
  const quad = tilted(250, 200, 300, 260, 4);
  paintQuad(on, quad, layer(ground, spot, 6));
  return recogniseLight(expose(on, 2, 9), quad);
}

describe("the light of a photo", () => {
  it.each<[string, "uv254" | "uv365" | "white", Colour, Colour, Colour]>([
    ["a layer that glows green", "uv254", [110, 220, 130], [30, 60, 70], [30, 20, 70]],
    ["a clipped green layer", "uv254", [160, 255, 190], [60, 120, 90], [40, 30, 90]],
    ["a dark violet layer with bright spots", "uv365", [30, 20, 60], [120, 160, 230], [15, 10, 40]],
    ["white silica by daylight", "white", [225, 222, 215], [120, 90, 60], [120, 110, 100]],
    ["a permanganate stain", "white", [225, 170, 200], [190, 160, 60], [200, 200, 200]],
    ["a molybdate stain", "white", [190, 205, 120], [40, 70, 90], [150, 140, 130]],
    ["an anisaldehyde stain", "white", [235, 190, 170], [110, 60, 120], [90, 90, 90]],
  ])("%s is %s", (_, light, ground, spot, bench) => {
    const found = lightOf(ground, spot, bench);
    expect(found.light).toBe(light);
    expect(found.confidence).toBeGreaterThan(0.6);
  });
});
