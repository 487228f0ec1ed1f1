import { expect, it } from "vitest";
import { killWriters } from "./support/killWriters.ts";

// `npm run bench:kill` does the same 200 times.
it("writers killed at random, three at once: no act lost that was reported kept, no file half written", async () => {
  const { reported, kept, faults } = await killWriters({ kills: 24, writers: 3, seed: 7 });
  expect(faults).toEqual([]);
  expect(reported).toBeGreaterThanOrEqual(24);
  expect(kept).toBeGreaterThanOrEqual(reported);
}, 180_000);
