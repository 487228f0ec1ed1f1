import { describe, expect, it } from "vitest";
import { checkPlan, rankEluents, recoverMass } from "../../../src/planning/index.ts";
import {
  eluentsCsv,
  planCsv,
  recoveryCsv,
  spotsCsv,
  tubesCsv,
  type WriteUpInput,
  writeUpMarkdown,
  writeUpText,
} from "../../../src/report/planning/index.ts";
import { inventedRun } from "../../planning/support/run.ts";
import { CHALCONE, hexaneTrial, KETONE } from "../../planning/support/scouting.ts";
import { dividedAs } from "../support/sampleDecisions.ts";

const { plan, result, log } = inventedRun();
const clean = result.pools.find((p) => p.kind === "clean" && p.components[0] === "B")!;
const weighings = [{ pool: clean.id, flask: "1", tareG: 45.1234, grossG: 45.2434 }];
const basis = { productMolarMass: 208.26, limitingMmol: 1, ratio: 1, component: "B" };
const input: WriteUpInput = {
  result,
  log,
  plan,
  check: checkPlan(plan, result, log, null),
  recovery: recoverMass(weighings, result.pools, 250, basis),
  basis,
  names: { A: "ketone", B: "chalcone" },
  version: "0.1.0",
};

describe("the paragraph", () => {
  const text = writeUpText(input).paragraphs.join(" ");

  it.each([
    ["load", /The crude product \(250 mg\)/],
    ["column", /silica \(24 g, .*20 mm × 15 cm\)/],
    ["eluent", /with hexane\/ethyl acetate 4:1/],
    ["tubes", new RegExp(`${plan.tubes.length} tubes of ${plan.fractionMl} mL`)],
    ["Rf and names", /chalcone \(B\) at Rf 0\.37/],
    ["pool", new RegExp(`pool ${clean.id}\\) gave chalcone \\(B\\)`)],
    ["mass", /120 mg, 48 % of the load/],
    ["balance", /In all 120 mg of 250 mg came off \(48 %\); 130 mg \(52 %\) are missing/],
    ["yield", /Yield of chalcone \(B\): 120 mg, 0\.576 mmol, 58 % of theory \(208 mg/],
    ["reservation", /One spot is never proof of purity/],
  ])("tells %s", (_, words) => {
    expect(text).toMatch(words);
  });

  it("names changes of eluent by tube, as the log has them", () => {
    const changed = {
      ...log,
      tubes: log.tubes.map((t) => ({ ...t, eluent: t.number < 9 ? "hexane" : "ether" })),
      changes: [{ tube: 9, eluent: "ether" }],
    };
    expect(writeUpText({ ...input, log: changed }).paragraphs[0]).toContain("with hexane, then ether from tube 9 on");
  });

  it("says nothing of what is not known", () => {
    const bare = writeUpText({
      ...input,
      plan: null,
      check: null,
      recovery: null,
      basis: null,
      log: null,
    }).paragraphs.join(" ");
    expect(bare).not.toMatch(/silica|Against the plan|missing|Yield|null|undefined|NaN/);
  });

  it("says whose pools they are", () => {
    const said = (r: typeof result) => writeUpText({ ...input, result: r, version: "9.9" }).paragraphs.at(-1);
    expect(said(result)).toMatch(/^Pools suggested by platepool 9\.9 from photos of the plates\. One spot is never/);
    const divided = dividedAs(result, [
      ["1", [1, 2], true],
      ["2", [3]],
    ]);
    expect(said(divided)).toMatch(
      /^Pools divided by hand, 1 of 2 accepted; what they hold read by platepool 9\.9 from/,
    );
  });

  it("as Markdown keeps names from turning into mark-up", () => {
    const md = writeUpMarkdown({ ...input, names: { B: "*x* | <b>`y`" } });
    expect(md).toContain("\\*x\\* \\| \\<b\\>\\`y\\`");
    expect(md.split("\n").filter((l) => /^\| P\d/.test(l))).toHaveLength(result.pools.length);
  });
});

describe("tables", () => {
  const cells = (csv: string) =>
    csv
      .trimEnd()
      .split("\r\n")
      .map((line) => line.split(","));

  it("have as many cells in every row as in the header", () => {
    for (const csv of [spotsCsv(result), planCsv(plan), recoveryCsv(input.recovery!, weighings)]) {
      const [head, ...rows] = cells(csv);
      for (const row of rows) expect(row).toHaveLength(head.length);
    }
  });

  it("carry the figures", () => {
    expect(recoveryCsv(input.recovery!, weighings)).toContain(
      "flask,P4,1,45.1234,45.2434,120,\r\n".replace("P4", clean.id),
    );
    expect(planCsv(plan).split("\r\n")).toHaveLength(plan.bands.length + 2);
  });

  it("disarm what a spreadsheet would run", () => {
    const armed = "=HYPERLINK(1)";
    const notes = { ...log, tubes: log.tubes.map((t) => ({ ...t, eluent: armed, flask: "+1", notes: ["@x", "-2"] })) };
    const csv = tubesCsv(notes);
    expect(csv).toContain("'=HYPERLINK(1)");
    expect(csv).not.toMatch(/(^|,|")[=+@-][A-Za-z(]/m);
    const trial = hexaneTrial(20, [KETONE, CHALCONE]);
    const ranking = rankEluents([{ ...trial, eluent: { ...trial.eluent, text: armed } }], null);
    expect(eluentsCsv(ranking)).not.toMatch(/,=/);
  });

  it("give the closest pair, its resolution and how far apart it comes for every eluent", () => {
    const ranking = rankEluents([hexaneTrial(20, [KETONE, CHALCONE])], null);
    const [head, first] = cells(eluentsCsv(ranking));
    const pair = ranking.trials[0].closest!;
    const at = head.indexOf("closest pair");
    expect(head.slice(at, at + 4)).toEqual([
      "closest pair",
      "pair Rf apart",
      "pair resolution",
      "pair column volumes apart",
    ]);
    expect(first[at]).toBe("A and B");
    expect(first.slice(at + 1, at + 4).map(Number)).toEqual(
      [pair.deltaRf, pair.resolution, pair.columnVolumes].map((v) => expect.closeTo(v, 3)),
    );
  });
});
