import type { Finding, RunFile } from "../../model/index.ts";
import { parseYaml, type YamlFault } from "./document.ts";
import { runSchema } from "./schema.ts";
import { shapeFaults } from "./shapeFaults.ts";
import { spellOut } from "./spellOut.ts";

/** A run file read: either it stands, with doubts, or it is wrong and every fault has its line. */
export type ParsedRunFile =
  | { readonly run: RunFile; readonly findings: readonly Finding[] }
  | { readonly run: null; readonly faults: readonly string[] };

/**
 * Reads the text of a run file.
 * @param name the file's own name, for messages: `run.yaml line 7: ...: what to do`
 */
export function parseRunFile(text: string, name = "run.yaml"): ParsedRunFile {
  const told = (faults: readonly YamlFault[]): ParsedRunFile => ({
    run: null,
    faults: faults.map((f) => `${name} line ${f.line}: ${f.message}`),
  });
  const parsed = parseYaml(text);
  if ("faults" in parsed) return told(parsed.faults);
  const shaped = runSchema.safeParse(parsed.text.value ?? {});
  if (!shaped.success) return told(shapeFaults(runSchema, shaped.error, parsed.text));
  const { run, faults, doubts } = spellOut(shaped.data, parsed.text);
  if (faults.length > 0) return told(faults);
  const findings = doubts.map(
    ({ code, line, message, remedy, fraction }): Finding => ({
      code,
      message: `${name} line ${line}: ${message}`,
      remedy,
      where: { fraction },
    }),
  );
  return { run, findings };
}
