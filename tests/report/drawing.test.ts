import { DOMParser } from "@xmldom/xmldom";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bracketRuns, isMainPiece } from "../../src/report/drawing/bracket.ts";
import { toneMarks } from "../../src/report/drawing/marks.ts";
import { MARKS, paletteOf, TOL_BRIGHT, toneOf } from "../../src/report/drawing/palette.ts";
import { laneXAt, laneYAt, placeLane, stripTransform, windowY } from "../../src/report/drawing/placement.ts";
import { intervalSvg, policyStripSvg } from "../../src/report/drawing/policy.ts";
import { profileSvg, totalShares } from "../../src/report/drawing/profile.ts";
import { rackSvgs } from "../../src/report/drawing/rack.ts";
import { slotRows, tubeSlots } from "../../src/report/drawing/slots.ts";
import { THEME } from "../../src/report/drawing/style.ts";
import { evenRows, fitText, spreadLabels, textWidth } from "../../src/report/drawing/text.ts";
import { isDoubtful, tubeInWords } from "../../src/report/drawing/tube.ts";
import { intervalInWords, listed, numberRanges, percent } from "../../src/report/words.ts";
import { sampleResult } from "./support/sampleResult.ts";

const wellFormed = (svg: string) =>
  new DOMParser({
    onError: (level, message) => {
      throw new Error(`${level}: ${message}`);
    },
  }).parseFromString(svg, "image/svg+xml");

describe("brackets", () => {
  /** One letter per tube, "." for none; a piece is drawn [--] or, where it goes on beyond the row, <--> . */
  const draw = (pools: string, from: number, to: number) =>
    bracketRuns(
      [...pools].map((p) => (p === "." ? null : p)),
      from,
      to,
    )
      .map((r) => `${r.openLeft ? "<" : "["}${r.pool.repeat(r.end - r.start)}${r.openRight ? ">" : "]"}`)
      .join("");

  it("span neighbours of one pool and stay open where the pool goes on in another row", () => {
    expect(draw("aaab.cc", 0, 7)).toBe("[aaa][b][cc]");
    expect(draw("aaabbbbb", 0, 4)).toBe("[aaa][b>");
    expect(draw("aaabbbbb", 4, 8)).toBe("<bbbb]");
    expect(draw("aaaaaa", 2, 4)).toBe("<aa>");
    expect(draw("....", 0, 4)).toBe("");
    expect(draw("", 0, 0)).toBe("");
  });

  it("write in full under the longest piece alone", () => {
    const rows = [bracketRuns(["a", "a", "b"], 0, 3), bracketRuns(["a", "a", "b", "b", "b"], 3, 5)].flat();
    expect(rows.map((r) => isMainPiece(r, rows))).toEqual([true, false, true]);
  });
});

describe("a strip", () => {
  const plates = sampleResult().plates;
  const lanes = plates.flatMap((plate) => plate.lanes.map((lane) => ({ plate, lane })));
  const window = { width: 24, height: 228, rfTop: 1.07, rfBottom: -0.07 };

  it("puts the origin at Rf 0, the lane's front at Rf 1, and the lane's own line upright in the middle", () => {
    fc.assert(
      fc.property(fc.constantFrom(...lanes), fc.double({ min: 0, max: 1, noNaN: true }), ({ plate, lane }, rf) => {
        const picture = { width: 420, height: 596 };
        const place = placeLane(plate, lane);
        const { matrix: m, width } = stripTransform(place, picture, window);
        const y = laneYAt(place, rf);
        const [px, py] = [laneXAt(place, y) * picture.width, y * picture.height];
        expect(m[0] * px + m[2] * py + m[4]).toBeCloseTo(window.width / 2, 6);
        expect(m[1] * px + m[3] * py + m[5]).toBeCloseTo(windowY(window, rf), 6);
        expect(width).toBeLessThanOrEqual(window.width);
      }),
    );
  });

  it("puts each spot of the sample at the height of its Rf", () => {
    for (const { plate, lane } of lanes) {
      const place = placeLane(plate, lane);
      for (const spot of lane.spots) expect(laneYAt(place, spot.rf)).toBeCloseTo(spot.y, 2);
    }
  });

  it("shows no more of the plate than the lane has to itself", () => {
    const wide = { ...window, width: 400 };
    const place = placeLane(plates[0], plates[0].lanes[3]);
    const { matrix, width } = stripTransform(place, { width: 420, height: 596 }, wide);
    expect(width / matrix[0] / 420).toBeLessThanOrEqual(place.pitch + 1e-9);
  });
});

describe("laying out", () => {
  it("cuts tubes into rows as even as they come", () => {
    expect(evenRows(24, 12)).toEqual([
      [0, 12],
      [12, 24],
    ]);
    expect(evenRows(25, 12)).toEqual([
      [0, 9],
      [9, 18],
      [18, 25],
    ]);
    expect(evenRows(0, 12)).toEqual([[0, 0]]);
  });

  it("keeps every slot, in order, in rows that are not too wide", () => {
    for (const options of [{}, { tubes: 60, every: 3 }, { tubes: 7 }]) {
      const slots = tubeSlots(sampleResult(options));
      const rows = slotRows(slots, 13);
      expect(rows.flat()).toEqual(slots);
      for (const row of rows) expect(row.reduce((w, s) => w + (s.lane ? 1 : 0.55), 0)).toBeLessThanOrEqual(13 + 1e-9);
    }
  });

  it("moves labels apart, in order and inside", () => {
    expect(spreadLabels([10, 12, 50], 8, 0, 100)).toEqual([10, 18, 50]);
    expect(spreadLabels([95, 98], 8, 0, 100)).toEqual([92, 100]);
    expect(spreadLabels([], 8, 0, 100)).toEqual([]);
  });

  it("shortens text to its room", () => {
    expect(fitText("crude", 200, 10)).toBe("crude");
    const cut = fitText("crude mixture before the column", 60, 10);
    expect(cut.endsWith("…")).toBe(true);
    expect(textWidth(cut, 10)).toBeLessThanOrEqual(60);
  });
});

describe("tones", () => {
  it("differ in marks or colour for as many components as a column could give", () => {
    const tones = paletteOf(Array.from({ length: 24 }, (_, i) => `K${i}`));
    expect(new Set(tones.map((t) => `${t.colour} ${t.marks}`)).size).toBe(24);
    expect(new Set(tones.slice(0, 6).map((t) => t.marks)).size).toBe(6);
    expect(new Set(tones.slice(0, 6).map((t) => t.colour))).toEqual(new Set(TOL_BRIGHT));
    expect(toneOf(tones, null)).toMatchObject({ letter: "?", colour: "#BBBBBB" });
  });

  it("are marked inside the shape only, even where it is not convex", () => {
    const shape = [
      [0, 0],
      [60, 0],
      [60, 40],
      [30, 8],
      [0, 40],
    ] as const;
    const inside = (x: number, y: number) =>
      y >= -0.1 && x >= -0.1 && x <= 60.1 && y <= 40.1 && y <= 8 + Math.abs(x - 30) * (32 / 30) + 0.15;
    for (const marks of MARKS) {
      const d = toneMarks({ ...paletteOf(["A"])[0], marks }, shape)?.text ?? "";
      const points = [...d.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)];
      expect(points.length > 0).toBe(marks !== "plain");
      for (const [, x, y] of points) expect(inside(Number(x), Number(y))).toBe(true);
    }
  });
});

describe("colours of text", () => {
  /** Contrast of two sRGB colours, WCAG 2.2 (relative luminance with its printed constants). */
  function contrast(a: string, b: string): number {
    const luminance = (hex: string) => {
      const [r, g, bl] = [1, 3, 5].map((i) => {
        const c = Number.parseInt(hex.slice(i, i + 2), 16) / 255;
        return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
      });
      return 0.2126 * r + 0.7152 * g + 0.0722 * bl;
    };
    const [hi, lo] = [luminance(a), luminance(b)].sort((x, y) => y - x);
    return (hi + 0.05) / (lo + 0.05);
  }

  it("measures black on white as WCAG does", () => {
    expect(contrast("#000000", "#ffffff")).toBeCloseTo(21, 6);
  });

  it.each(Object.entries(THEME))("%s keeps AA: 4.5 for text, 3 for edges", (_, t) => {
    for (const ground of [t.paper, t.card]) {
      for (const text of [t.ink, t.soft, t.doubt, t.link]) expect(contrast(text, ground)).toBeGreaterThanOrEqual(4.5);
      expect(contrast(t.edge, ground)).toBeGreaterThanOrEqual(3);
    }
  });
});

describe("the drawings", () => {
  const result = sampleResult();
  const palette = paletteOf(result.components.map((c) => c.id));
  const { fractions: tubes, pools, components, profiles } = result;

  it("are well-formed, free of broken numbers, and the same each time", () => {
    const all = () => [
      ...rackSvgs({ tubes, pools, palette, width: 700, perRow: 10, fontSize: 12 }),
      profileSvg({ profiles, components, tubes, pools, palette, width: 700, fontSize: 12, label: "profiles" }),
      policyStripSvg({ outcome: result.policies[1], tubes, palette, width: 260, label: "balance" }),
      intervalSvg({ low: 0.9, mid: 0.95, high: 0.99 }),
    ];
    for (const svg of all()) {
      wellFormed(svg);
      expect(svg).not.toMatch(/NaN|Infinity|undefined/);
    }
    expect(all()).toEqual(all());
  });

  it("fill a tube by its shares: sectors of the right angle", () => {
    const traces = Object.fromEntries([..."DEFGH"].map((c) => [c, 0.008]));
    const half = {
      ...tubes[5],
      number: 1,
      composition: { A: 0.48, B: 0.24, C: 0.24, ...traces },
      state: "mixed" as const,
    };
    const [svg] = rackSvgs({ tubes: [half], pools: [], palette, width: 100, perRow: 1, fontSize: 10 });
    const areas = Array.from(wellFormed(svg).getElementsByTagName("path"))
      .filter((p) => p.getAttribute("class") === "d-rim")
      .map((p) => {
        const points = [...(p.getAttribute("d") ?? "").matchAll(/(-?[\d.]+) (-?[\d.]+)/g)].map((m) => [
          Number(m[1]),
          Number(m[2]),
        ]);
        return Math.abs(
          points.reduce((sum, [x, y], i) => {
            const [u, v] = points[(i + 1) % points.length];
            return sum + (x * v - u * y) / 2;
          }, 0),
        );
      });
    const total = areas.reduce((a, b) => a + b, 0);
    expect(areas.map((a) => Math.round((a / total) * 1000) / 1000)).toEqual([0.5, 0.25, 0.25]);
    const rim = 2.4 * 10 - 3.5;
    expect(total / (Math.PI * rim * rim)).toBeGreaterThan(0.985);
  });

  it("share out all that the plates show", () => {
    const shares = [...totalShares(profiles).values()];
    expect(shares.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 9);
    expect(totalShares([]).size).toBe(0);
  });

  it("says that a tube holds one component only where not even a trace of another shows", () => {
    const held = (composition: Record<string, number>) => tubeInWords({ ...result.fractions[1], composition });
    expect(held({ B: 1 })).toContain("B only");
    expect(held({ B: 0.9943, A: 0.0057 })).toContain("B 99 %");
  });

  it("mark a tube as doubtful for low confidence or a spotted tube's remark, not for being unspotted", () => {
    expect(isDoubtful({ confidence: 0.7, reason: null, seen: true })).toBe(true);
    expect(isDoubtful({ confidence: 0.95, reason: "faint", seen: true })).toBe(true);
    expect(isDoubtful({ confidence: 0.95, reason: "inferred", seen: false })).toBe(false);
    expect(tubeInWords(tubes[1])).toBe(
      "Tube 2: clean (not spotted, inferred from its neighbours), A only; pool 2, 76 % sure; doubtful",
    );
  });
});

describe("words", () => {
  it("write runs of numbers as a chemist does", () => {
    expect(numberRanges([3, 1, 2, 7, 9, 10])).toBe("1–3, 7, 9, 10");
    expect(numberRanges([])).toBe("");
    expect(listed(["a", "b", "c"])).toBe("a, b and c");
  });

  it("never round to certainty or to nothing", () => {
    expect([0, 0.001, 0.5, 0.991, 0.9951, 1].map(percent)).toEqual(["0 %", "< 1 %", "50 %", "99 %", "> 99 %", "100 %"]);
    expect(intervalInWords({ low: 0.97, mid: 1, high: 1 })).toBe("> 99 % (97 to > 99)");
  });
});
