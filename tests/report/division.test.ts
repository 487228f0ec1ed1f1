import { parse } from "csv-parse/sync";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { asSuggested, divisionOf } from "../../src/report/division.ts";
import { picturesIn, poolsCsv, reportHtml } from "../../src/report/index.ts";
import { divisionInWords } from "../../src/report/sections/poolingMap.ts";
import { asTheyAre, counted, dividedAs } from "./support/sampleDecisions.ts";
import { undrawnInput } from "./support/samplePictures.ts";
import { sampleResult } from "./support/sampleResult.ts";

// Suggested: 1 = tube 1 (empty), 2 = 2-5 (A), 3 = 6-11 (mixed), 4 = 12-18 (C), 5 = 19-21 (mixed), 6 = 22-24 (D).
const result = sampleResult();
const rows = (text: string) => parse(text, { columns: true, record_delimiter: "\r\n" }) as Record<string, string>[];
const words = (r: typeof result) => divisionInWords(divisionOf(r)!);

describe("what was decided against what is suggested", () => {
  it("nothing divided by hand is no division", () => {
    expect(divisionOf(result)).toBeNull();
    const mended = dividedAs(result, []);
    expect(divisionOf({ ...mended, decisions: { ...mended.decisions!, pools: null } })).toBeNull();
  });

  it("the same tubes under another name are no difference", () => {
    const pools = asTheyAre(result).map(([name, tubes]) => [name === "4" ? "chalcone" : name, tubes, true] as const);
    const division = divisionOf(dividedAs(result, pools))!;
    expect([division.otherwise, [...division.elsewhere]]).toEqual([[], []]);
    expect(division.origin.get("chalcone")?.id).toBe("4");
    expect(words(dividedAs(result, pools))).toBe("All 6 pools are accepted, as suggested.");
    expect(words(dividedAs(result, asTheyAre(result)))).toBe("0 of 6 pools accepted, as suggested.");
  });

  it("a tube that was moved is told with the pool suggested for it, and both pools are otherwise", () => {
    const moved = dividedAs(result, asTheyAre(result, { 3: [6, 7, 8, 9, 10], 4: [11, 12, 13, 14, 15, 16, 17, 18] }));
    const division = divisionOf(moved)!;
    expect([...division.elsewhere]).toEqual([[11, "3"]]);
    expect(division.otherwise.map((p) => p.id)).toEqual(["3", "4"]);
    expect(words(moved)).toBe("Divided by hand: 6 pools, none accepted; tube 11 stands elsewhere than suggested.");
  });

  it("a pool cut in two: the larger part goes back to it, the other to none", () => {
    const division = divisionOf(
      dividedAs(result, [...asTheyAre(result, { 4: [12, 13] }), ["9", [14, 15, 16, 17, 18]]]),
    )!;
    expect(division.origin.get("9")?.id).toBe("4");
    expect(division.origin.has("4")).toBe(false);
    expect([...division.elsewhere]).toEqual([
      [12, "4"],
      [13, "4"],
    ]);
  });

  it("pools made one: the tubes of the smaller stand elsewhere", () => {
    const division = divisionOf(dividedAs(result, asTheyAre(result, { 5: null, 6: [19, 20, 21, 22, 23, 24] })))!;
    expect([...division.elsewhere.keys()]).toEqual(division.origin.get("6")?.id === "5" ? [22, 23, 24] : [19, 20, 21]);
    expect(division.otherwise.map((p) => p.id)).toEqual(["5", "6"]);
  });

  it("tubes that came after the division are told", () => {
    expect(words(dividedAs(result, asTheyAre(result), [24]))).toMatch(/; tube 24 came since, as suggested\.$/);
  });

  it("holds for any division: each suggested pool is the origin of one at most, and a tube elsewhere has another", () => {
    const places = fc.array(fc.integer({ min: 0, max: 7 }), { minLength: 24, maxLength: 24 });
    fc.assert(
      fc.property(places, (of) => {
        const pools = [...new Set(of)].map((k) => [`n${k}`, of.flatMap((p, i) => (p === k ? [i + 1] : []))] as const);
        const division = divisionOf(dividedAs(result, pools))!;
        const origins = [...division.origin.values()];
        expect(new Set(origins).size).toBe(origins.length);
        for (const [tube, suggested] of division.elsewhere) {
          const pool = division.pools.find((p) => p.fractions.includes(tube))!;
          expect(division.origin.get(pool.id)?.id).not.toBe(suggested);
          expect(asSuggested(division, pool)).toBe(false);
        }
      }),
    );
  });
});

describe("the table of a run that was divided by hand", () => {
  const divided = dividedAs(result, [
    ...asTheyAre(result, { 2: null, 3: [6, 7, 8, 9, 10], 4: [11, 12, 13, 14, 15, 16, 17, 18] }),
    ["ketone", [2, 3, 4, 5], true],
  ]);
  const { result: counts, suggested } = counted(divided);
  const table = rows(poolsCsv(counts, suggested));

  it("has the pool that counts, the one suggested, and what was decided", () => {
    const of = (tube: number) => {
      const { pool, "suggested pool": was, decision, "pool tubes": tubes } = table[tube - 1];
      return [pool, was, decision, tubes];
    };
    expect(of(3)).toEqual(["ketone", "2", "accepted", "2 to 5"]);
    expect(of(11)).toEqual(["4", "3", "by hand", "11 to 18"]);
    expect(of(20)).toEqual(["5", "5", "suggested", "19 to 21"]);
  });

  it("gives the plates' reason where the pool is the suggested one", () => {
    expect(table[2]["pool reason"]).toBe(result.pools[1].reason);
    expect(table[10]["pool reason"]).toBe("Divided by hand: 4.");
  });

  it("says of every tube that its pool is suggested where nothing was decided", () => {
    expect(rows(poolsCsv(result)).map((r) => [r.pool === r["suggested pool"], r.decision])).toEqual(
      result.fractions.map(() => [true, "suggested"]),
    );
  });
});

describe("the report of a run that was divided by hand", () => {
  const pools = asTheyAre(result, { 3: [6, 7, 8, 9, 10], 4: [11, 12, 13, 14, 15, 16, 17, 18] });
  const divided = dividedAs(
    result,
    pools.map(([name, tubes]) => [name === "4" ? "chalcone" : name, tubes, name === "4"] as const),
  );
  const input = { ...undrawnInput(result), ...counted(divided) };
  const html = reportHtml(input);
  const text = html.replace(/<style>.*?<\/style>/s, "").replace(/<[^>]+>/g, " ");

  it("shows the decided pools as the ones that count, and the suggestion where it differs", () => {
    expect(text).toMatch(/Divided by hand: 6 pools, 1 accepted; tube 11 stands elsewhere than suggested\./);
    expect(text).toMatch(/Combine tubes 2–5 \(A\) and 22–24 \(D\); keep 6–10 \(A \+ B \+ C\), 11–18 /);
    expect(html).toMatch(/data-pool="chalcone"/);
    expect(html).not.toMatch(/data-pool="4"/);
    expect([...new Set([...html.matchAll(/data-suggested="([^"]*)"/g)].map((m) => m[1]))]).toEqual(["3", "4"]);
    expect(text).toMatch(/pool chalcone \(suggested: pool 3, \d+ % sure\)/);
    expect(text).toMatch(/chalcone\s+accepted\s+11–18/);
    expect(text).toMatch(/12–18: C clean/);
    expect(text).not.toMatch(/A suggestion, not a decision/);
  });

  it("leaves a pool out of the sentence whose tubes a new reading does not have", () => {
    const gone = dividedAs(result, [...asTheyAre(result), ["old", [98, 99]]]);
    const made = reportHtml({ ...input, ...counted(gone) }).replace(/<[^>]+>/g, " ");
    expect(made).toMatch(/ old\s+–/);
    expect(made).toMatch(/keep 6–11 \(A \+ B \+ C\) and 19–21 \(C \+ D\) apart as mixed; tube 1 looks empty/);
  });

  it("asks no more about tubes in accepted pools", () => {
    expect(text).toMatch(/look again at tubes 2, 8, 9, 22, 23\./);
  });

  it("tells what speaks against a decision first among the doubts", () => {
    const against = {
      code: "x",
      message: "Tube 12 now shows D.",
      remedy: "Look again.",
      pool: "4",
      fraction: 12,
      photo: null,
    };
    const decisions = { ...divided.decisions!, contradictions: [against] };
    const asked = reportHtml({ ...input, ...counted({ ...divided, decisions }) });
    expect(asked).toMatch(
      /<ul class="doubts"><li><b>Against a decision:<\/b> Tube 12 now shows D\. Look again\.<\/li>/,
    );
  });

  it("gives its pictures back, so that it can be written anew without a photo", () => {
    const odd = `p "1" <&'>.jpg`;
    const named = JSON.parse(JSON.stringify(input).replaceAll("p1-254.jpg", odd.replace(/"/g, '\\"')));
    const made = reportHtml(named);
    const pictures = picturesIn(made, named.suggested);
    expect(pictures).toEqual({ straightened: named.straightened, photos: named.photos });
    expect(reportHtml({ ...named, ...pictures })).toBe(made);
    expect(named.photos[0].file).toBe(odd);
  });

  it("gives none where a picture is missing or the reading is another", () => {
    expect(picturesIn(html.replace(/<image data-plate[^>]*>/, ""), result)).toBeNull();
    expect(picturesIn(html, { ...result, photos: result.photos.slice(1) })).toBeNull();
    expect(picturesIn("", result)).toBeNull();
  });

  it("takes long pictures as they are", () => {
    const long = "QUJD".repeat(1_000_000);
    const large = { ...input, photos: input.photos.map((p) => ({ ...p, jpegBase64: long })) };
    expect(picturesIn(reportHtml(large), result)?.photos.every((p) => p.jpegBase64 === long)).toBe(true);
  });
});
