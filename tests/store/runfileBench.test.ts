import { describe, expect, it } from "vitest";
import { parseRunFile } from "../../src/store/index.ts";

const faults = (text: string) => {
  const parsed = parseRunFile(text);
  return parsed.run === null ? parsed.faults : [];
};

describe("the bench in run.yaml", () => {
  it("spells out rack, tube log, column, product and eluents", () => {
    const parsed = parseRunFile(`
run: chalcone 3
fractions: { count: 24, volume_ml: 10 }
rack: { rows: 4, columns: 6, fill: serpentine }
tubes:
  - { tube: 9, volume_ml: 4, note: ran over }
  - { tube: 13-24, eluent: "hexane/ethyl acetate 1:1", flask: 2 }
column:
  load_mg: 250
  want: B
  names: { B: chalcone }
  diameter_mm: 20
  steps:
    - { eluent: "hexane/ethyl acetate 4:1", rf: { A: 0.55, B: 0.37 } }
    - { from_ml: 120, eluent: "hexane/ethyl acetate 1:1", rf: { A: 0.9, B: 0.8 } }
product: { component: B, molar_mass: 208.26, limiting_mmol: 1.2 }
plates:
  - { photos: [p1.jpg], lanes: [crude, 1-3], eluent: "hexane/ethyl acetate 4:1" }
  - { photos: [p2.jpg], lanes: [crude, chalcone], eluents: ["toluene", "dichloromethane"] }
`);
    expect(parsed.run?.bench).toMatchObject({
      rack: { rows: 4, columns: 6, fill: "serpentine", start: "top-left" },
      racks: null,
      tubes: [
        { from: 9, to: 9, volumeMl: 4, note: "ran over", eluent: null },
        { from: 13, to: 24, eluent: "hexane/ethyl acetate 1:1", flask: "2", volumeMl: null },
      ],
      column: { loadMg: 250, want: "B", diameterMm: 20, bedCm: null, names: { B: "chalcone" } },
      product: { component: "B", molarMass: 208.26, limitingMmol: 1.2, ratio: 1 },
    });
    expect(parsed.run?.bench?.column?.steps.map((s) => s.fromMl)).toEqual([0, 120]);
    expect(parsed.run?.plates?.map((p) => p.eluents)).toEqual([
      ["hexane/ethyl acetate 4:1"],
      ["toluene", "dichloromethane"],
    ]);
  });

  it.each([
    ["column:\n  steps:\n    - { rf: { A: 35 } }", /line 3: .*between 0 and 1 \(hRf 35/],
    ["column: { load_mg: -5 }", /line 1: .*above 0 \(mg\)/],
    ["column: { load: 250 }", /line 1: unknown key "load": did you mean "load_mg"/],
    ["rack: { rows: 0, columns: 6 }", /line 1: .*1 or more/],
    ["rack: { rows: 4, columns: 6, fill: snake }", /line 1: .*serpentine/],
    ["tubes:\n  - { tube: nine }", /line 2: "nine" is no tube/],
    ["tubes:\n  - { tube: 7-3 }", /line 2: "7-3" is no tube/],
    ["tubes:\n  - { tube: 3, volume_ml: -2 }", /line 2: .*0 or more/],
    ["product: { molar_mass: 0, limiting_mmol: 1 }", /line 1: .*above 0 \(g\/mol\)/],
    ["column:\n  steps:\n    - { rf: { A: 0.3 } }\n    - { rf: { A: 0.6 } }", /line 4: from_ml is missing/],
    ["plates:\n  - { photos: [a.jpg], lanes: [crude, x], eluents: [toluene] }", /line 2: 1 eluents, but 2 lanes/],
    ["plates:\n  - { photos: [a.jpg], eluent: toluene, eluents: [toluene] }", /line 2: .*keep one/],
  ])("%j: one line with its number", (text, why) => {
    const told = faults(text);
    expect(told).toHaveLength(1);
    expect(told[0]).toMatch(why);
  });
});
