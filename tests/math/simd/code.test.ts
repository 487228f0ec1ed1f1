import { expect, it } from "vitest";
import { CODE } from "../../../src/math/simd/code.ts";
import { memoryFor, ROOM } from "../../../src/math/simd/index.ts";
import { compiled } from "./compile.ts";

it("is what the sources in assembly compile to", async () => {
  expect((await compiled()) === CODE).toBe(true);
});

it("gives room for as much as is asked for, and keeps what lies there", () => {
  memoryFor(8)[ROOM / 4] = 7;
  const memory = memoryFor(5_000_000);
  expect(memory.length).toBeGreaterThanOrEqual((ROOM + 5_000_000) / 4);
  expect(memory[ROOM / 4]).toBe(7);
  expect(memoryFor(8)).toBe(memory);
});
