import { describe, expect, it } from "vitest";
import { decide, decideDrawn } from "./support/decide.ts";
import { drawnPlates } from "./support/drawing.ts";

const codes = (drawing: string, count: number | null = null) =>
  decideDrawn(drawing, { fractionCount: count }).findings.map((f) => f.code);

describe("alarms", () => {
  it("none for a plain run", () => {
    expect(
      codes(`
      rf   1 2 3 4 5 6 7 8 9
      0.60 . 4 7 7 3 . . . .
      0.35 . . . . 3 7 8 5 .
    `),
    ).toEqual([]);
  });

  it("two humps of one component", () => {
    const found = decideDrawn(`
      rf   1 2 3 4 5 6 7 8 9 10 11
      0.40 . 5 8 6 3 2 2 4 8 7  .
    `).findings;
    expect(found.map((f) => f.code)).toContain("two-humps");
    expect(found[0].message).toMatch(/^A \(Rf 0\.40\) comes off in two humps, with a dip at tube [67]\.$/);
  });

  it("a component of the crude that never came off", () => {
    expect(
      codes(`
      rf   crude 1 2 3 4 5 6
      0.60 6     . 4 7 4 . .
      0.10 6     . . . . . .
    `),
    ).toContain("never-came-off");
  });

  it("product in the last tube, and in the first", () => {
    expect(
      codes(`
      rf   1 2 3 4 5 6
      0.60 6 7 4 . . .
      0.35 . . . 4 7 7
    `),
    ).toEqual(["in-first-tube", "in-last-tube"]);
  });

  it("an empty lane between two full ones", () => {
    expect(
      codes(`
      rf   1 2 3 4 5 6 7 8 9
      0.50 . 5 8 9 . 9 8 5 .
    `),
    ).toContain("empty-lane");
  });

  it("an unspotted gap inside a component", () => {
    expect(
      codes(`
      rf   1 2 3 4 8 9 10
      0.50 . 4 7 8 8 5 .
    `),
    ).toContain("unspotted-gap");
  });

  it("two tubes swapped", () => {
    //            here 4 and 5 are exchanged
    const found = decideDrawn(`
      rf   1 2 3 4 5 6 7 8 9
      0.70 . 6 8 . 7 . . . .
      0.30 . . . 8 2 8 6 4 .
    `).findings;
    expect(found.find((f) => f.code === "tubes-swapped")?.message).toContain("Tubes 4 and 5 look swapped");
  });

  it("every component tailing", () => {
    expect(
      codes(`
      rf   1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16
      0.70 . 9 9 8 8 7 7 6 6 5  5  4  4  3  3  2
      0.30 . . . . 9 9 8 8 7 7  6  6  5  5  4  4
    `),
    ).toContain("all-tailing");
  });

  it("amounts that jump from tube to tube", () => {
    const jumping = decideDrawn(`
      rf   1 2 3 4 5 6 7 8 9 10 11 12
      0.60 2 9 3 9 2 9 3 9 2 9  3  9
    `);
    expect(jumping.findings.map((f) => f.code)).toContain("amounts-jump");
    const even = decideDrawn(`
      rf   1 2 3 4 5 6 7 8 9 10 11 12
      0.60 2 3 5 7 8 9 9 8 7 6  4  3
    `);
    expect(even.findings.map((f) => f.code)).not.toContain("amounts-jump");
    const doubt = ({ value }: typeof even) => 1 - value.fractions[5].confidence;
    expect(doubt(jumping)).toBeGreaterThan(1.3 * doubt(even));
  });

  it("a component carried over into a tube well away from its run", () => {
    const found = decideDrawn(`
      rf   1 2 3 4 5 6 7 8 9 10
      0.60 5 8 9 7 . . . . 3 .
      0.30 . . . . 5 8 9 8 8 7
    `).findings;
    expect(found.find((f) => f.code === "carried-over")?.message).toBe(
      "A shows up in tube 9, away from its run around tube 3.",
    );
  });

  it.each([
    ["4 4", "Tubes 2 and 3 leave something on the start line; it is not counted."],
    ["4 .", "Tube 2 leaves something on the start line; it is not counted."],
  ])("spots left on the start line of tubes: %s", (left, words) => {
    const plates = drawnPlates(`
      rf    1 2 3 4
      0.50  . 5 6 .
      0.008 . ${left} .
    `).map((p) => ({
      ...p,
      lanes: p.lanes.map((l) => ({
        ...l,
        spots: l.spots.map((s) => (s.rf < 0.02 ? { ...s, flags: ["at-origin" as const] } : s)),
      })),
    }));
    const { value, findings } = decide(plates);
    expect(findings.map((f) => [f.code, f.message])).toEqual([["at-origin", words]]);
    expect(value.components).toHaveLength(1);
  });

  it("nothing that could be a substance", () => {
    expect(
      codes(`
      rf   1 2 3
      0.50 . . .
    `),
    ).toEqual(["no-components"]);
  });

  it("a tube beyond those collected, and a wanted component that is not there", () => {
    const { findings } = decideDrawn(
      `
      rf   1 2 9
      0.50 5 6 .
    `,
      { fractionCount: 4, want: "Q" },
    );
    expect(findings.map((f) => f.code)).toContain("tube-beyond-count");
    expect(findings.find((f) => f.code === "want-unknown")?.remedy).toBe("Found: A (Rf 0.50).");
  });
});

describe("advice", () => {
  it("is worth the most first and points at what is doubtful", () => {
    const { value } = decideDrawn(`
      rf   1 2 3 4 5 6 7 8 9
      0.60 4 7 8 7 4 . . . .
      0.35 . . . 1 . 6 8 6 3
    `);
    const gains = value.advice.map((a) => a.gain);
    expect(gains).toEqual([...gains].sort((a, b) => b - a));
    const spotted = value.advice.filter((a) => a.code === "spot-again").flatMap((a) => a.fractions);
    expect(spotted.some((n) => n === 4 || n === 5)).toBe(true);
    expect(spotted).not.toContain(2);
  });

  it("asks for a tube nobody has spotted where two components meet", () => {
    const { value } = decideDrawn(`
      rf   1 2 3 5 6 7
      0.60 4 7 5 . . .
      0.35 . . . 5 6 3
    `);
    expect(value.advice[0]).toMatchObject({ code: "spot-unseen", fractions: [4] });
    expect(value.advice[0].message).toMatch(
      /^Spot tube 4, nobody has: .*\(confidence would go from 0\.\d\d to about 0\.\d\d\)\.$/,
    );
  });

  it("is silent where all is clear", () => {
    const { value } = decideDrawn(`
      rf   1 2 3 4 5 6 7
      0.60 5 8 5 . . . .
      0.30 . . . . 6 8 6
    `);
    expect(value.advice.filter((a) => a.fractions.some((n) => [1, 2, 6, 7].includes(n)))).toEqual([]);
  });

  it("asks for the light that shows a component on plates that lack it", () => {
    // B answers to the stain alone; the second plate was never stained.
    const plates = drawnPlates(`
      rf   crude 1 2 3 | crude 4 5 6
      0.60 6     . 6 7 | 6     6 . .
      0.30 6     . . 3 | .     . . .
    `);
    const stained = plates.map((p, i) => ({
      ...p,
      photos: i === 0 ? [p.photos[0], { ...p.photos[0], light: "white" as const, stain: "kmno4" }] : p.photos,
      lanes: p.lanes.map((l) => ({
        ...l,
        detectionLimit: i === 0 ? [0.3, 0.3] : [0.3],
        spots: l.spots.map((s) => {
          const dark = s.rf < 0.4;
          const uv = dark ? { ...s.responses[0], amount: 0.01, contrastToNoise: 0.5, peak: 0.001 } : s.responses[0];
          const white = { ...s.responses[0], light: "white" as const, photo: 1 };
          return { ...s, responses: i === 0 ? [uv, white] : [uv] };
        }),
      })),
    }));
    const { value } = decide(stained, { fractionCount: 6 });
    const advice = value.advice.find((a) => a.code === "other-light");
    expect(advice?.message).toBe("Stain plate P2: the 254 nm photo cannot show component B.");
    const blind = value.pools.find((p) => p.fractions.includes(4));
    expect(blind?.kind).toBe("clean");
    expect(blind?.reason).toMatch(/some B \(Rf 0\.30\) may be there unseen: A may be no more than \d+ % of it/);
    expect(value.pools.find((p) => p.fractions.includes(2))?.reason).toMatch(/shows only A/);
  });

  it("asks for two spots on one point where two near components may be one", () => {
    const { value } = decideDrawn(`
      rf    1 2 3 4 5 6 7 8
      0.420 4 7 9 8 6 . . .
      0.397 . . . . . 7 8 7
    `);
    expect(value.components).toHaveLength(2);
    const advice = value.advice.find((a) => a.code === "co-spot");
    expect(advice?.message).toBe(
      "Co-spot tube 3 with tube 7: one spot or two tells whether A and B are one substance.",
    );
  });

  it("weighs the wanted component more", () => {
    // Tube 4 is nearly clean in A.
    const drawing = `
      rf   1 2 3 4 5 6 7 8
      0.60 4 7 7 7 3 . . .
      0.35 . . . 1 5 8 5 3
    `;
    const gain = (want: string) =>
      decideDrawn(drawing, { want }).value.advice.find((a) => a.fractions.includes(4))?.gain ?? 0;
    expect(gain("A")).toBeGreaterThan(1.5 * gain("0.36"));
  });
});
