import { describe, expect, it } from "vitest";
import { progressOn } from "../../src/cli/terminal/progress.ts";

function terminal(isTTY: boolean) {
  const written: string[] = [];
  const stream = { isTTY, columns: 40, write: (text: string) => written.push(text) } as unknown as NodeJS.WriteStream;
  return { stream, written };
}

describe("progress", () => {
  it("rewrites one line of a terminal, no wider than it is, and wipes it", () => {
    const { stream, written } = terminal(true);
    const progress = progressOn(stream, false);
    progress.step(3, 8, `reading ${"x".repeat(100)}`);
    progress.clear();
    expect(written[0]).toMatch(/^\r.*3 of 8 {2}reading x+$/);
    expect(written[0].split("3 of 8")[1].length).toBeLessThan(40);
    expect(written.join("")).not.toContain("\n");
  });

  it.each([
    [false, false],
    [true, true],
  ])("is silent where it is piped or quiet is asked for (%s, %s)", (isTTY, quiet) => {
    const { stream, written } = terminal(isTTY);
    progressOn(stream, quiet).step(1, 2, "reading");
    progressOn(stream, quiet).clear();
    expect(written).toEqual([]);
  });
});
