import { promises as fs } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { unzipSync } from "fflate";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { elnArchive } from "../../src/cli/bench/archive.ts";
import { sha256 } from "../../src/store/index.ts";

/*
 * The archive by the rules of RO-Crate 1.1, one by one, as they stand in the specification (P. Sefton et al., RO-Crate
 * Metadata Specification 1.1.1, doi:10.5281/zenodo.4541002; wording and section names from memory). Its context comes
 * from the npm package ro-crate 3.1, the last to carry that of 1.1; JSON-LD itself is judged by its reference
 * implementation, the npm package jsonld.
 */
const require = createRequire(import.meta.url);
const CONTEXT_URL = "https://w3id.org/ro/crate/1.1/context";
const context11 = require("ro-crate-of-1.1/lib/defaults.js").standardContexts[CONTEXT_URL];
const jsonld: {
  flatten(doc: unknown, context: unknown, options: object): Promise<Record<string, unknown>>;
  expand(doc: unknown, options: object): Promise<Record<string, unknown>[]>;
} = require("jsonld");
const documentLoader = (url: string) => {
  if (url !== CONTEXT_URL) throw new Error(`the crate asks for ${url}`);
  return { contextUrl: null, documentUrl: url, document: context11 };
};

type Entity = { readonly "@id": string; readonly "@type": string | string[] } & Readonly<Record<string, unknown>>;

const PHOTOS = ["plate 1 (254 nm).jpg", "100 % ü #2?.png", "p3.heic"];
let folder: string;
let files: Record<string, Uint8Array>;
let text: string;
let crate: { readonly "@context": unknown; readonly "@graph": readonly Entity[] };

beforeAll(async () => {
  folder = await fs.mkdtemp(join(tmpdir(), "eln-"));
  await fs.mkdir(join(folder, "results"));
  for (const photo of PHOTOS) await fs.writeFile(join(folder, photo), photo);
  await fs.writeFile(join(folder, "run.yaml"), "run: chalcone 3\n");
  await fs.writeFile(join(folder, "decisions.jsonl"), "{}\n");
  for (const name of ["result.json", "report.html", "pools.csv", "writeup.md", "p3.png"])
    await fs.writeFile(join(folder, "results", name), name);
  const zip = await elnArchive({
    folder,
    title: "Column chromatography: chalcone 3",
    name: "chalcone-3",
    description: "What was done.",
    photos: PHOTOS.map((file) => ({ file, path: join(folder, file) })),
    at: new Date("2024-03-01T10:00:00Z"),
    readAt: "2024-03-01T09:00:00.000Z",
  });
  files = unzipSync(zip);
  text = new TextDecoder().decode(files["chalcone-3/ro-crate-metadata.json"]);
  crate = JSON.parse(text);
});
afterAll(() => fs.rm(folder, { recursive: true, force: true }));

const by = (id: string) => crate["@graph"].find((e) => e["@id"] === id);
const types = (e: Entity) => [e["@type"]].flat();
const idsIn = (value: unknown) =>
  [value].flat().flatMap((v) => (v !== null && typeof v === "object" && "@id" in v ? [String(v["@id"])] : []));
const data = () =>
  crate["@graph"].filter((e) => e["@id"] !== "./" && types(e).some((t) => t === "File" || t === "Dataset"));
const inZip = (id: string) => `chalcone-3/${decodeURIComponent(id.replace(/^\.\//, ""))}`;

const BASE = "https://crate.example/";

/** Entities by absolute @id, lists of one as their one value, empty lists left out: what JSON-LD holds to be the same. */
function byId(graph: readonly Entity[]): Record<string, Entity> {
  const plain: Entity[] = JSON.parse(JSON.stringify(graph), (key, value) => {
    if (key === "@id") return new URL(value, BASE).href;
    if (!Array.isArray(value) || value === graph) return value;
    return value.length === 0 ? undefined : value.length === 1 ? value[0] : value;
  });
  return Object.fromEntries(plain.map((e) => [e["@id"], e]));
}

describe("RO-Crate Structure", () => {
  it("the root directory MUST hold a metadata file, and it MUST be named ro-crate-metadata.json", () => {
    expect(text).not.toBe("");
    expect(new Set(Object.keys(files).map((f) => f.split("/")[0]))).toEqual(new Set(["chalcone-3"]));
  });

  it("the metadata file MUST be JSON-LD, flattened and compacted, and the context MUST be that of 1.1 (additions allowed)", async () => {
    expect([crate["@context"]].flat()[0]).toBe(CONTEXT_URL);
    expect(Object.keys(crate).sort()).toEqual(["@context", "@graph"]);
    const again = await jsonld.flatten(crate, crate["@context"], {
      documentLoader,
      base: BASE,
      compactToRelative: false,
    });
    expect(byId(again["@graph"] as Entity[])).toEqual(byId(crate["@graph"]));
  });

  it("every term is known to the context of 1.1, or added beside it", async () => {
    const terms = crate["@graph"].flatMap((e) => [...Object.keys(e).filter((k) => !k.startsWith("@")), ...types(e)]);
    const added = Object.keys([crate["@context"]].flat()[1] as object);
    const known = context11["@context"];
    expect(added).toEqual(["sha256"]);
    for (const term of new Set(terms)) expect(term in known || added.includes(term), term).toBe(true);
    // And nothing falls out when JSON-LD is expanded, as an unknown term would.
    const expanded = byId((await jsonld.expand(crate, { documentLoader, base: BASE })) as Entity[]);
    for (const [id, e] of Object.entries(byId(crate["@graph"])))
      expect(Object.keys(expanded[id]).length, id).toBe(Object.keys(e).length);
  });
});

describe("RO-Crate Metadata File Descriptor", () => {
  it("MUST be there with @id ro-crate-metadata.json and @type CreativeWork", () => {
    expect(by("ro-crate-metadata.json")?.["@type"]).toBe("CreativeWork");
  });

  it("MUST be about the root data entity; SHOULD conform to a versioned permalink of the specification", () => {
    expect(by("ro-crate-metadata.json")).toMatchObject({
      about: { "@id": "./" },
      conformsTo: { "@id": "https://w3id.org/ro/crate/1.1" },
    });
  });
});

describe("Root Data Entity", () => {
  it("@type MUST be Dataset; @id MUST end with / and SHOULD be ./", () => {
    expect(types(by("./")!)).toContain("Dataset");
  });

  it("datePublished MUST be a single string, an ISO 8601 date to the day or finer", () => {
    const published = by("./")?.["datePublished"];
    expect(published).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?Z$/);
    expect(Number.isNaN(Date.parse(String(published)))).toBe(false);
  });

  it("SHOULD have name, description, and license as a reference to an entity that is described", () => {
    const root = by("./")!;
    expect([typeof root["name"], typeof root["description"]]).toEqual(["string", "string"]);
    const [licence] = idsIn(root["license"]);
    expect(by(licence)).toMatchObject({ name: expect.any(String), description: expect.any(String) });
  });
});

describe("Data Entities", () => {
  it("MUST be linked from the root data entity, directly or not, by hasPart", () => {
    const reached = new Set<string>();
    const follow = (id: string) => {
      if (reached.has(id)) return;
      reached.add(id);
      for (const part of idsIn(by(id)?.["hasPart"])) follow(part);
    };
    follow("./");
    expect(data().filter((e) => !reached.has(e["@id"]))).toEqual([]);
  });

  it("a File's @id MUST be a URI, relative to the root or absolute, percent-encoded; its file MUST be in the crate", () => {
    const described = data().filter((e) => types(e).includes("File"));
    expect(described).toHaveLength(PHOTOS.length + 2 + 5);
    for (const e of described) {
      expect(e["@id"]).toMatch(/^(\.\/)?[A-Za-z0-9\-._~!$&'()*+,;=:@%/]+$/);
      expect(e["@id"]).not.toMatch(/%(?![0-9A-F]{2})|\.\.|^\//);
      expect(new URL(e["@id"], "file:///crate/").pathname).toMatch(/^\/crate\/run\//);
      expect(Object.keys(files)).toContain(inZip(e["@id"]));
    }
  });

  it("a directory's @id MUST be a path relative to the root, and SHOULD end with /", () => {
    const directories = data().filter((e) => types(e).includes("Dataset"));
    expect(directories.map((e) => e["@id"])).toEqual(["./run/"]);
    expect(Object.keys(files).some((f) => f.startsWith(inZip("./run/")))).toBe(true);
  });

  it("every file of the payload is described, with its media type, size and SHA-256 as it is", () => {
    const described = new Map(data().map((e) => [inZip(e["@id"]), e]));
    for (const [name, bytes] of Object.entries(files)) {
      if (name.endsWith("/ro-crate-metadata.json")) continue;
      expect(described.get(name), name).toMatchObject({ contentSize: String(bytes.length), sha256: sha256(bytes) });
      expect(described.get(name)?.["encodingFormat"]).toMatch(/^[a-z]+\/[a-z0-9.+-]+$/);
    }
  });
});

describe("Contextual Entities and the graph (RO-Crate JSON-LD)", () => {
  it("every entity MUST have an @id of its own and a @type; and has a name", () => {
    const ids = crate["@graph"].map((e) => e["@id"]);
    expect(new Set(ids).size).toBe(ids.length);
    for (const e of crate["@graph"]) {
      expect(typeof e["@id"]).toBe("string");
      expect(types(e).length).toBeGreaterThan(0);
      if (e["@id"] !== "ro-crate-metadata.json") expect(e["name"], e["@id"]).toEqual(expect.any(String));
    }
  });

  it("entities MUST NOT be nested: references are { @id } alone, and each that is local is described", () => {
    for (const e of crate["@graph"])
      for (const value of Object.values(e).flat())
        if (value !== null && typeof value === "object") {
          expect(Object.keys(value)).toEqual(["@id"]);
          const [id] = idsIn(value);
          expect(id.startsWith("https://") || by(id) !== undefined, id).toBe(true);
        }
  });

  it("what is no file and no web page has an @id that begins with #", () => {
    const others = crate["@graph"].filter(
      (e) => !data().includes(e) && !/^(\.\/|ro-crate-metadata\.json)$/.test(e["@id"]),
    );
    expect(others.length).toBeGreaterThan(2);
    for (const e of others) expect(e["@id"]).toMatch(/^#/);
  });

  it("the reading is an action that names its instrument, what went in and what came out", () => {
    const action = crate["@graph"].find((e) => types(e).includes("CreateAction"))!;
    expect(types(by(idsIn(action["instrument"])[0])!)).toContain("SoftwareApplication");
    expect(idsIn(action["object"]).some((id) => id.includes("/photos/"))).toBe(true);
    expect(idsIn(action["result"])).toContain("./run/results/result.json");
  });
});
