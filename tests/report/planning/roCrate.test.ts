import { createRequire } from "node:module";
import { unzipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { type CrateFile, crateMetadata } from "../../../src/report/planning/index.ts";
import { sha256, zipFiles } from "../../../src/store/index.ts";

interface Judged {
  readonly status: string;
  readonly message: string;
}
interface Validator {
  readonly results: readonly Judged[];
  parseJSON(json: unknown): void;
  rootDataEntity(): void;
  checkFiles(files: Record<string, unknown>): void;
}
interface Library {
  readonly Validator: new () => Validator;
  readonly ROCrate: new (json: unknown, options: object) => { resolveTerm(term: string): string | undefined };
  readonly Checker: new (
    crate: unknown,
  ) => Record<`has${string}`, () => { readonly status: boolean; readonly name: string }>;
}

// The npm package ro-crate knows RO-Crate's own rules. It would fetch the context from the web; here it gets the one it
// carries itself (that of 1.2, which kept every term of 1.1 used here).
const require = createRequire(import.meta.url);
const library: Library = require("ro-crate");
const context = require("ro-crate/lib/context.json")["@context"];
const bytes = (text: string) => new TextEncoder().encode(text);
const CONTENT: Record<string, { text: string; role: CrateFile["role"]; type: string }> = {
  "photos/plate 1 (254 nm).jpg": { text: "photo", role: "photo", type: "image/jpeg" },
  "run.yaml": { text: "run: x", role: "input", type: "application/yaml" },
  "results/result.json": { text: "{}", role: "result", type: "application/json" },
  "results/writeup.md": { text: "# é", role: "writeup", type: "text/markdown" },
};
const files = Object.entries(CONTENT).map(([path, { text, role, type }]) => ({
  path,
  role,
  description: path,
  encodingFormat: type,
  size: bytes(text).length,
  sha256: sha256(bytes(text)),
}));
const metadata = crateMetadata({
  title: "Column chromatography: chalcone 3",
  description: "What was done.",
  folder: "run",
  files,
  madeAt: "2024-03-01T10:00:00.000Z",
  readAt: "2024-03-01T09:00:00.000Z",
  version: "0.1.0",
});
const json = JSON.parse(metadata);
const entities: { "@id": string; "@type": string; [key: string]: unknown }[] = json["@graph"];

const offline = { ...json, "@context": context };

function validate(files: Record<string, unknown> | null): readonly Judged[] {
  const validator = new library.Validator();
  validator.parseJSON(offline);
  validator.rootDataEntity();
  if (files) validator.checkFiles(files);
  return validator.results;
}

describe("the crate's metadata", () => {
  it("passes the rules of RO-Crate for root entity and descriptor", () => {
    const results = validate(null);
    expect(results.filter((r) => r.status !== "success")).toEqual([]);
    expect(results.length).toBeGreaterThan(5);
    const checker = new library.Checker(new library.ROCrate(offline, { array: true, link: true }));
    for (const rule of ["RootDataset", "RootDatasetWithProperID", "Name", "Description", "License", "DatePublished"])
      expect(checker[`has${rule}`](), rule).toMatchObject({ status: true });
  });

  it("conforms to 1.1: descriptor about the root, context by reference", () => {
    expect(json["@context"][0]).toBe("https://w3id.org/ro/crate/1.1/context");
    const descriptor = entities.find((e) => e["@id"] === "ro-crate-metadata.json");
    expect(descriptor).toMatchObject({
      "@type": "CreativeWork",
      about: { "@id": "./" },
      conformsTo: { "@id": "https://w3id.org/ro/crate/1.1" },
    });
  });

  it("is one flat graph: every reference points at an entity that is there, ids are unique and are URIs", () => {
    const ids = entities.map((e) => e["@id"]);
    expect(new Set(ids).size).toBe(ids.length);
    const refs = entities.flatMap((e) =>
      Object.values(e)
        .flat()
        .flatMap((v) => (v !== null && typeof v === "object" && "@id" in v ? [(v as { "@id": string })["@id"]] : [])),
    );
    for (const ref of refs) expect(ref.startsWith("https://") || ids.includes(ref)).toBe(true);
    for (const id of ids) expect(id).not.toMatch(/[ <>"\\^`{}|]/);
    for (const e of entities)
      for (const value of Object.values(e).flat())
        if (value !== null && typeof value === "object") expect(Object.keys(value as object)).toEqual(["@id"]);
  });

  it("knows every property and type that it uses", () => {
    const crate = new library.ROCrate(offline, { array: true, link: true });
    for (const e of entities)
      for (const name of [...Object.keys(e).filter((k) => !k.startsWith("@")), e["@type"]])
        expect(crate.resolveTerm(name), name).toMatch(/^https?:/);
  });

  it("describes every file with its size and SHA-256, and the reading that made the results", () => {
    const described = entities.filter((e) => e["@type"] === "File");
    expect(described).toHaveLength(files.length);
    for (const [i, e] of described.entries())
      expect(e).toMatchObject({
        sha256: files[i].sha256,
        contentSize: String(files[i].size),
        encodingFormat: files[i].encodingFormat,
      });
    // SHA-256 of "abc" (FIPS 180-2, example B.1).
    expect(sha256(bytes("abc"))).toBe("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    const action = entities.find((e) => e["@type"] === "CreateAction");
    expect(action).toMatchObject({ instrument: { "@id": "#platepool" }, endTime: "2024-03-01T09:00:00.000Z" });
  });
});

describe("the archive", () => {
  const at = new Date("2024-03-01T10:00:00Z");
  const all = [
    { path: "chalcone-3/ro-crate-metadata.json", bytes: bytes(metadata) },
    ...Object.entries(CONTENT).map(([path, { text }]) => ({ path: `chalcone-3/run/${path}`, bytes: bytes(text) })),
  ];
  const zip = zipFiles(all, at);

  it("holds just what the metadata describes, in one folder", () => {
    const entries = unzipSync(zip);
    const there = Object.fromEntries(
      Object.keys(entries).map((name) => [encodeURI(name.replace("chalcone-3/", "./")), { exists: true }]),
    );
    delete there["./ro-crate-metadata.json"];
    const listed = { ...there, "./run/": { exists: true, isDir: true } };
    expect(validate(listed).filter((r) => r.status !== "success")).toEqual([]);
    const short = Object.fromEntries(Object.entries(listed).slice(1));
    expect(validate(short).some((r) => r.status === "error")).toBe(true);
    for (const file of files) expect(sha256(entries[`chalcone-3/run/${file.path}`])).toBe(file.sha256);
  });

  it("is the same byte for byte for the same files", () => {
    expect(sha256(zipFiles(all, at))).toBe(sha256(zip));
    expect([...zip.slice(0, 4)]).toEqual([0x50, 0x4b, 3, 4]);
  });
});
