import { type DefaultTreeAdapterMap, defaultTreeAdapter, html, type ParserError, parse } from "parse5";
import { beforeAll, describe, expect, it } from "vitest";
import type { Result } from "../../src/model/index.ts";
import { type ReportInput, reportHtml } from "../../src/report/index.ts";
import { undrawnInput } from "./support/samplePictures.ts";
import { sampleResult } from "./support/sampleResult.ts";

type Node = DefaultTreeAdapterMap["node"];
type Element = DefaultTreeAdapterMap["element"];

function elementsOf(text: string): { elements: Element[]; errors: ParserError[] } {
  const errors: ParserError[] = [];
  const document = parse(text, { sourceCodeLocationInfo: true, onParseError: (e) => errors.push(e) });
  const elements: Element[] = [];
  const walk = (node: Node) => {
    if (defaultTreeAdapter.isElementNode(node)) elements.push(node);
    if ("childNodes" in node) node.childNodes.forEach(walk);
  };
  walk(document);
  return { elements, errors };
}

const attribute = (e: Element, name: string) => e.attrs.find((a) => a.name === name)?.value;

function textOf(node: Node): string {
  if (defaultTreeAdapter.isTextNode(node)) return node.value;
  if (defaultTreeAdapter.isElementNode(node) && node.tagName === "style") return "";
  return "childNodes" in node ? node.childNodes.map(textOf).join("") : "";
}

describe("the report of a run of 24 tubes", () => {
  let input: ReportInput;
  let text: string;
  let elements: Element[];
  let errors: ParserError[];
  beforeAll(() => {
    input = undrawnInput(sampleResult());
    text = reportHtml(input);
    ({ elements, errors } = elementsOf(text));
  });

  it("is HTML that a parser takes without an error", () => {
    expect(errors.map((e) => `${e.code} at ${e.startLine}:${e.startCol}`)).toEqual([]);
  });

  it("tells its parts in order, the map first and the cautions last", () => {
    const ids = elements.filter((e) => e.tagName === "section").map((e) => attribute(e, "id"));
    expect(ids).toEqual(["map", "lanes", "amounts", "photos", "tubes", "pools", "trade", "next", "doubts", "cautions"]);
    const links = elements.filter((e) => e.tagName === "a").map((e) => attribute(e, "href"));
    expect(links).toEqual(ids.slice(1).map((id) => `#${id}`));
  });

  it("asks the network for nothing and runs nothing", () => {
    expect(elements.filter((e) => ["script", "link", "iframe", "object", "embed", "form"].includes(e.tagName))).toEqual(
      [],
    );
    expect(text).not.toMatch(/https?:|@import|url\(|javascript:/i);
    for (const e of elements) {
      for (const { name, value } of e.attrs) {
        expect(name).not.toMatch(/^on/i);
        if (name === "href" || name === "src") expect(value).toMatch(/^(#|data:image\/jpeg;base64,)/);
      }
    }
  });

  it("embeds each picture once, and every strip refers to one that is there", () => {
    const images = elements.filter((e) => e.tagName === "image");
    expect(images).toHaveLength(input.straightened.length + input.photos.length);
    const ids = elements.flatMap((e) => attribute(e, "id") ?? []);
    expect(new Set(ids).size).toBe(ids.length);
    const used = elements.filter((e) => e.tagName === "use").map((e) => attribute(e, "href")?.slice(1));
    // 24 lanes (21 tubes and crude on three plates), two lights, three widths; crude again in the sheet's second row,
    // and on the phone crude stands in a row of its own.
    expect(used.length).toBe(24 * 2 * 3 + 3 * 2);
    expect(used.filter((id) => !ids.includes(id ?? ""))).toEqual([]);
  });

  it("marks a spot of no component beside its strip, without a letter", () => {
    const marks = elements.filter((e) => attribute(e, "class") === "d-unnamed");
    expect(marks).toHaveLength(2 * 3);
    const titles = elements.filter((e) => e.tagName === "title").map(textOf);
    expect(titles.filter((t) => t === "Rf 0.87, no component, 35 % sure")).toHaveLength(2 * 3);
  });

  it("gives every picture a text for those who can't see it", () => {
    const pictures = elements.filter((e) => e.tagName === "svg" && attribute(e, "role") === "img");
    expect(pictures.length).toBeGreaterThan(10);
    for (const p of pictures) expect(attribute(p, "aria-label")?.length).toBeGreaterThan(10);
    const silent = elements.filter((e) => e.tagName === "svg" && !attribute(e, "role") && !attribute(e, "overflow"));
    for (const s of silent) expect(attribute(s, "aria-hidden")).toBe("true");
  });

  it("lists every tube with its state, pool and confidence", () => {
    const rows = elements.filter(
      (e) => e.tagName === "tr" && e.parentNode && "tagName" in e.parentNode && e.parentNode.tagName === "tbody",
    );
    const cells = rows.map((r) => r.childNodes.map(textOf));
    const { result } = input;
    for (const f of result.fractions) {
      const row = cells.find(
        (c) => c[0].replace("?", "") === String(f.number) && c.length === 6 && /^(clean|mixed|empty)/.test(c[1]),
      );
      expect(row?.[1]).toContain(f.state);
      expect(row?.[3]).toBe(f.pool);
      expect(row?.[4]).toBe(`${Math.round(f.confidence * 100)} %`);
    }
    const pool4 = cells.find((c) => c[0] === "4" && c.length === 7);
    expect(pool4?.slice(1, 4).map((c) => c.replace(/\s+/g, " ").trim())).toEqual(["12–18", "C clean", "70 mL"]);
  });

  it("says in one sentence what to do", () => {
    const summary = elements.find((e) => attribute(e, "class") === "summary");
    expect(textOf(summary!)).toBe(
      "Combine tubes 2–5 (A), 12–18 (C) and 22–24 (D); keep 6–11 (A + B + C) and 19–21 (C + D) apart as mixed; tube 1 looks empty; look again at tubes 2, 8, 9, 12, 22, 23.",
    );
  });

  it("says that one spot is no proof of purity, and warns of what can hurt", () => {
    const said = elements
      .filter((e) => e.tagName === "main")
      .map(textOf)
      .join();
    expect(said).toContain("One spot is never proof of purity");
    for (const word of [
      "UV lamps",
      "Solvents",
      "Pressurised glass",
      "dust",
      "permanganate",
      "Evaporation",
      "Waste",
      "supervisor",
    ]) {
      expect(said).toContain(word);
    }
    expect(said).toContain("Demo: invented plates and figures");
  });

  it("is the same, byte for byte, every time", () => {
    expect(reportHtml(undrawnInput(sampleResult()))).toBe(text);
  });
});

describe("names that hold markup", () => {
  it("are shown as text wherever they come from", () => {
    const evil = `<img src=x onerror=alert(1)>"'&</style><script>`;
    const plain = sampleResult();
    const c = (id: string) => (id === "C" ? evil : id);
    const result: Result = {
      ...plain,
      run: evil,
      photos: plain.photos.map((p) => ({
        ...p,
        file: `${p.file}${evil}`,
        reason: evil,
        quality: p.quality && { ...p.quality, advice: evil },
      })),
      plates: plain.plates.map((p) => ({
        ...p,
        lanes: p.lanes.map((l) => ({
          ...l,
          label: evil,
          spots: l.spots.map((s) => ({ ...s, component: c(s.component!), flags: [evil] })),
        })),
      })),
      components: plain.components.map((k) => ({ ...k, id: c(k.id) })),
      profiles: plain.profiles.map((p) => ({ ...p, component: c(p.component) })),
      fractions: plain.fractions.map((f) => ({
        ...f,
        reason: evil,
        pool: f.pool === "4" ? evil : f.pool,
        composition: Object.fromEntries(Object.entries(f.composition).map(([k, v]) => [c(k), v])),
      })),
      pools: plain.pools.map((p) => ({
        ...p,
        id: p.id === "4" ? evil : p.id,
        components: p.components.map(c),
        reason: evil,
      })),
      advice: [{ code: evil, message: evil, fractions: [1], gain: 1 }],
      warnings: [{ code: evil, message: evil, photo: evil, fraction: null }],
    };
    const made = undrawnInput(plain);
    const text = reportHtml({
      ...made,
      result,
      straightened: made.straightened.map((s) => ({
        ...s,
        photo: `${s.photo}${evil}`,
        stain: evil,
        jpegBase64: `${s.jpegBase64}"><script>`,
      })),
      photos: made.photos.map((p) => ({ ...p, file: `${p.file}${evil}` })),
      notes: { ...made.notes, readOn: evil, version: evil, want: evil },
    });
    const { elements, errors } = elementsOf(text);
    expect(errors).toEqual([]);
    expect(elements.filter((e) => e.tagName === "script" || e.tagName === "img")).toEqual([]);
    expect(elements.filter((e) => e.attrs.some((a) => a.name.startsWith("on")))).toEqual([]);
    expect(textOf(elements.find((e) => e.tagName === "h1")!)).toContain(evil);
  });

  it("cannot turn the direction of the text or break the file with control characters", () => {
    const text = reportHtml({
      ...undrawnInput(sampleResult()),
      result: { ...sampleResult(), run: "a\u202egpj.\u0000b\ud800c" },
    });
    expect(text).toContain("a\ufffdgpj.\ufffdb\ufffdc");
  });
});

describe("runs of every size", () => {
  it.each([{ tubes: 60, lanesPerPlate: 11 }, { tubes: 60, every: 3 }, { tubes: 1 }, { tubes: 200, lanesPerPlate: 14 }])(
    "keeps every strip and tube inside its drawing, and strips apart: %o",
    (options) => {
      const result = sampleResult(options);
      const { elements } = elementsOf(reportHtml(undrawnInput(result)));
      const drawings = elements.filter((e) => e.tagName === "svg" && attribute(e, "class") === "drawing");
      const seen = new Map<string, number>();
      const within = (e: Element, width: number, ends: Map<string, number>) => {
        if (attribute(e, "class") === "d-strip") {
          const [x, y] = (attribute(e, "transform") ?? "").match(/[\d.]+/g) ?? [];
          const clip = e.childNodes[0] as Element;
          const left = Number(x) + Number(attribute(clip, "x") ?? 0);
          expect(left).toBeGreaterThanOrEqual(ends.get(y) ?? 0);
          ends.set(y, left + Number(attribute(clip, "width")));
          expect(ends.get(y)).toBeLessThanOrEqual(width);
        }
        if (e.tagName === "circle" && attribute(e, "class") === "d-glass") {
          expect(Number(attribute(e, "cx")) + Number(attribute(e, "r"))).toBeLessThanOrEqual(width);
        }
        const tube = attribute(e, "data-tube");
        if (tube) seen.set(tube, (seen.get(tube) ?? 0) + 1);
        for (const child of e.childNodes) if (defaultTreeAdapter.isElementNode(child)) within(child, width, ends);
      };
      for (const d of drawings) within(d, Number(attribute(d, "viewBox")?.split(" ")[2]), new Map());
      expect([...seen.keys()].map(Number)).toEqual(result.fractions.map((f) => f.number));
      expect([...seen.values()].every((n) => n === 3)).toBe(true);
    },
  );

  it("stands without plates, photos or tubes, and says so", () => {
    const empty: Result = {
      ...sampleResult(),
      run: null,
      photos: sampleResult().photos.filter((p) => p.status === "rejected"),
      plates: [],
      components: [],
      fractions: [],
      pools: [],
      profiles: [],
      policies: [],
      advice: [],
      warnings: [],
    };
    const notes = { readOn: null, version: null, demo: false, policy: null, want: null };
    const { elements, errors } = elementsOf(reportHtml({ result: empty, straightened: [], photos: [], notes }));
    expect(errors).toEqual([]);
    expect(elements.filter((e) => e.tagName === "section").map((e) => attribute(e, "id"))).toEqual([
      "map",
      "doubts",
      "cautions",
    ]);
    const said = textOf(elements.find((e) => e.tagName === "main")!);
    expect(said).toContain("No plate could be read.");
    expect(said).toContain("bench.jpg was not read: no plate in it");
    expect(said).not.toContain("Demo");
  });

  it("uses SVG's own names in the namespace of SVG", () => {
    const { elements } = elementsOf(reportHtml(undrawnInput(sampleResult())));
    const path = elements.find((e) => e.tagName === "path");
    expect(path?.namespaceURI).toBe(html.NS.SVG);
  });
});
