/** A file of the archive. */
export interface CrateFile {
  /** Path inside the run's folder of the archive, `/` between folders. */
  readonly path: string;
  /** What it is, in words. */
  readonly description: string;
  readonly encodingFormat: string;
  readonly size: number;
  /** Hexadecimal. */
  readonly sha256: string;
  /** Photos go into a reading, results come out of it. */
  readonly role: "photo" | "input" | "result" | "writeup";
}

export interface CrateInput {
  readonly title: string;
  /** The write-up as plain text. */
  readonly description: string;
  /** Folder of the run inside the archive. */
  readonly folder: string;
  readonly files: readonly CrateFile[];
  /** ISO 8601 times: when the archive was made, and when the photos were read (null: not known). */
  readonly madeAt: string;
  readonly readAt: string | null;
  readonly version: string | null;
}

type Entity = { readonly "@id": string; readonly "@type": string; readonly [key: string]: unknown };

/** A path as a relative URI: RO-Crate asks for percent-encoding of what is not allowed in one. */
function asUri(path: string): string {
  return `./${path.split("/").map(encodeURIComponent).join("/")}`;
}

const ref = (id: string) => ({ "@id": id });
/** The ELN format asks for `sha256`, which the context of 1.1 does not have: so it is added, as 1.1 says how. */
const CONTEXT = ["https://w3id.org/ro/crate/1.1/context", { sha256: "http://schema.org/sha256" }];
const PROGRAM = "#platepool";
const LICENCE = "#licence";
const PUBLISHER = "#publisher";

/**
 * `ro-crate-metadata.json` of an `.eln` archive (TheELNConsortium's file format): RO-Crate 1.1, one flat graph with the
 * archive, the run as a dataset, every file with size and SHA-256, and the reading as the action that made the results.
 */
export function crateMetadata(input: CrateInput): string {
  const run = `${asUri(input.folder)}/`;
  const file = (f: CrateFile) => `${run}${asUri(f.path).slice(2)}`;
  const inFiles = input.files.filter((f) => f.role === "photo" || f.role === "input");
  const outFiles = input.files.filter((f) => f.role === "result");
  const graph: Entity[] = [
    {
      "@id": "ro-crate-metadata.json",
      "@type": "CreativeWork",
      about: ref("./"),
      conformsTo: ref("https://w3id.org/ro/crate/1.1"),
      dateCreated: input.madeAt,
      version: "1.0",
      sdPublisher: ref(PUBLISHER),
    },
    {
      "@id": "./",
      "@type": "Dataset",
      name: input.title,
      description: `${input.title}: photos of the plates, results, what was typed at the bench, and the write-up.`,
      datePublished: input.madeAt,
      license: ref(LICENCE),
      hasPart: [ref(run)],
      mentions: outFiles.length > 0 ? [ref("#reading")] : [],
    },
    {
      "@id": run,
      "@type": "Dataset",
      name: input.title,
      description: input.description,
      dateCreated: input.madeAt,
      dateModified: input.madeAt,
      genre: "experiment",
      keywords: "thin-layer chromatography, column chromatography",
      hasPart: input.files.map((f) => ref(file(f))),
    },
    ...input.files.map((f) => ({
      "@id": file(f),
      "@type": "File",
      name: f.path.split("/").at(-1) ?? f.path,
      description: f.description,
      encodingFormat: f.encodingFormat,
      contentSize: String(f.size),
      sha256: f.sha256,
    })),
    {
      "@id": PROGRAM,
      "@type": "SoftwareApplication",
      name: "platepool",
      ...(input.version && { version: input.version }),
    },
    { "@id": PUBLISHER, "@type": "Organization", name: "platepool" },
    {
      "@id": LICENCE,
      "@type": "CreativeWork",
      name: "No licence given",
      description: "All rights stay with whoever made the plates.",
    },
  ];
  if (outFiles.length > 0)
    graph.push({
      "@id": "#reading",
      "@type": "CreateAction",
      name: "Reading of the plates",
      instrument: ref(PROGRAM),
      object: inFiles.map((f) => ref(file(f))),
      result: outFiles.map((f) => ref(file(f))),
      ...(input.readAt && { endTime: input.readAt }),
    });
  return `${JSON.stringify({ "@context": CONTEXT, "@graph": graph }, null, 2)}\n`;
}
