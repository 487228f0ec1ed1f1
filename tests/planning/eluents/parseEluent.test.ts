import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { describeMixture, parseEluent } from "../../../src/planning/index.ts";

const shares = (text: string) =>
  Object.fromEntries(parseEluent(text).parts.map((p) => [p.solvent, Number(p.share.toFixed(4))]));

describe("eluents as chemists write them", () => {
  it.each([
    ["hexane/ethyl acetate 4:1", { hexane: 0.8, "ethyl acetate": 0.2 }],
    ["hexane:EtOAc (4:1)", { hexane: 0.8, "ethyl acetate": 0.2 }],
    ["hexane : ethyl acetate = 4 : 1", { hexane: 0.8, "ethyl acetate": 0.2 }],
    ["n-hexane-ethyl acetate 4:1", { hexane: 0.8, "ethyl acetate": 0.2 }],
    ["EtOAc/hexane 1/4", { hexane: 0.8, "ethyl acetate": 0.2 }],
    ["20 % ethyl acetate in hexane", { hexane: 0.8, "ethyl acetate": 0.2 }],
    ["2,5% MeOH in DCM", { dichloromethane: 0.975, methanol: 0.025 }],
    ["1,4-dioxane/heptane 1:9", { heptane: 0.9, "1,4-dioxane": 0.1 }],
    ["dichloromethane", { dichloromethane: 1 }],
    ["DCM/MeOH 95:5 + 1 % triethylamine", { dichloromethane: 0.9405, methanol: 0.0495, triethylamine: 0.01 }],
    ["hexane/ethyl acetate/methanol 80:15:5", { hexane: 0.8, "ethyl acetate": 0.15, methanol: 0.05 }],
    ["CH2Cl2/MeOH (95/5)", { dichloromethane: 0.95, methanol: 0.05 }],
  ])("%s", (text, expected) => {
    expect(shares(text)).toEqual(expected);
  });

  it("puts the weaker solvent first, however it was typed", () => {
    expect(parseEluent("EtOAc/hexane 1:4").parts[0].solvent).toBe("hexane");
  });

  it.each([
    ["", /empty/],
    ["4:1", /no solvent/],
    ["hexane/ethyl acetate", /no ratio/],
    ["hexane/ethyl acetate 4:1:1", /3 parts/],
    ["hexane/hexanes 1:1", /named twice/],
    ["120 % acetone in hexane", /120 %/],
    ["hexane/acetone 0:0", /all parts are 0/],
    ["hexane + a bit of base", /no share/],
  ])("refuses %j and says how to write it", (text, why) => {
    expect(() => parseEluent(text)).toThrow(why);
    expect(() => parseEluent(text)).toThrow(/Write it like/);
  });

  it("reads back what it proposes", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 0.99, noNaN: true }), (share) => {
        const text = describeMixture("hexane", "ethyl acetate", share).replace(/ \(.*/, "");
        if (!text.includes("in")) return;
        const strong = parseEluent(text).parts.find((p) => p.solvent === "ethyl acetate")!;
        expect(Math.abs(strong.share - share)).toBeLessThan(0.0051);
      }),
    );
    expect(describeMixture("hexane", "ethyl acetate", 0.2)).toBe("20 % ethyl acetate in hexane (about 4:1)");
  });
});
