import { parse } from "csv-parse/sync";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Result } from "../../src/model/index.ts";
import { poolsCsv } from "../../src/report/index.ts";
import { sampleResult } from "./support/sampleResult.ts";

const records = (text: string) => parse(text, { columns: true, record_delimiter: "\r\n" }) as Record<string, string>[];

function withReason(reason: string): Result {
  const result = sampleResult();
  return { ...result, fractions: result.fractions.map((f) => ({ ...f, reason })) };
}

describe("poolsCsv", () => {
  it("has one row per tube with its pool beside it", () => {
    const rows = records(poolsCsv(sampleResult()));
    expect(rows).toHaveLength(24);
    expect(rows[12]).toMatchObject({
      tube: "13",
      pool: "4",
      state: "clean",
      spotted: "yes",
      "pool kind": "clean",
      "pool tubes": "12 to 18",
      "pool components": "C",
      "pool volume mL": "70",
    });
    expect(rows[1]).toMatchObject({ tube: "2", spotted: "no" });
    expect(Number(rows[5]["share A"]) + Number(rows[5]["share B"])).toBeCloseTo(1, 3);
    expect(rows[0]).toMatchObject({ state: "empty", "pool purity": "", "share A": "0" });
  });

  it("keeps tube ranges from being taken for dates", () => {
    for (const row of records(poolsCsv(sampleResult()))) expect(row["pool tubes"]).not.toMatch(/\d[-–/.]\d/);
  });

  it.each(["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "  =cmd|' /C calc'!A0", "＝1+1"])(
    "does not let a spreadsheet run %j (OWASP, CSV Injection)",
    (formula) => {
      const rows = records(poolsCsv(withReason(formula)));
      expect(rows[0].reason).toBe(`'${formula}`);
    },
  );

  it("gives any text back to a reader of RFC 4180 as it was", () => {
    const text = fc.string({ unit: "grapheme", minLength: 1 }).filter((s) => !/^\s*[=+\-@\t\r＝＋－＠]/.test(s));
    fc.assert(
      fc.property(text, (reason) => {
        expect(records(poolsCsv(withReason(reason)))[3].reason).toBe(reason);
      }),
    );
  });

  it("ends every line with CRLF and writes no exponents", () => {
    const result = sampleResult();
    const tiny = { ...result, fractions: result.fractions.map((f) => ({ ...f, confidence: 3e-9 })) };
    const text = poolsCsv(tiny);
    expect(text.endsWith("\r\n")).toBe(true);
    expect(text.replaceAll("\r\n", "")).not.toMatch(/[\r\n]/);
    expect(text).not.toMatch(/,\d(\.\d+)?e-/);
  });
});
