import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import type { Mending } from "../../../src/model/index.ts";
import type { ActRequest } from "../../../src/review/api.ts";
import { aheadOf, STILL_MS } from "../../../src/review/page/state/ahead.ts";

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

const at = (y: number): Mending => ({ what: "origin", plate: { photos: ["p1.jpg"], place: 0 }, y });

/** A server that answers when it is told to. */
function bench(last: number | null = 3) {
  const asked: number[] = [];
  const waiting: (() => void)[] = [];
  const ahead = aheadOf(
    () => last,
    ({ act }: ActRequest) => {
      asked.push(act.kind === "mend" && act.mending.what === "origin" ? act.mending.y : Number.NaN);
      return new Promise<void>((resolve) => void waiting.push(resolve));
    },
  );
  return { ahead, asked, answer: () => waiting.shift()?.() };
}

describe("a mark that is held", () => {
  it("is told once it lies still, not on its way", async () => {
    const { ahead, asked } = bench();
    for (let i = 0; i < 10; i++) {
      ahead.lies(at(0.8 + i / 100));
      await vi.advanceTimersByTimeAsync(STILL_MS / 2);
    }
    expect(asked).toEqual([]);
    await vi.advanceTimersByTimeAsync(STILL_MS);
    expect(asked).toEqual([0.89]);
  });

  it("is not told any more when it was let go", async () => {
    const { ahead, asked } = bench();
    ahead.lies(at(0.8));
    ahead.lies(null);
    await vi.advanceTimersByTimeAsync(STILL_MS * 2);
    expect(asked).toEqual([]);
  });

  it("waits for the answer to what was told before; of several places the last counts", async () => {
    const { ahead, asked, answer } = bench();
    for (const y of [0.8, 0.81, 0.82]) {
      ahead.lies(at(y));
      await vi.advanceTimersByTimeAsync(STILL_MS * 2);
    }
    expect(asked).toEqual([0.8]);
    answer();
    await vi.advanceTimersByTimeAsync(0);
    expect(asked).toEqual([0.8, 0.82]);
  });

  it("is not told while an act is on its way", async () => {
    const { ahead, asked } = bench(null);
    ahead.lies(at(0.8));
    await vi.advanceTimersByTimeAsync(STILL_MS * 2);
    expect(asked).toEqual([]);
  });
});
