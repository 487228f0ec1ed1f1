import type { z } from "zod";
import { nearest } from "../nearest.ts";
import type { YamlFault, YamlPath, YamlText } from "./document.ts";

/** Every way in which a YAML text differs from a schema, each with its line and what to do. */
export function shapeFaults(schema: z.ZodType, error: z.ZodError, text: YamlText): YamlFault[] {
  return error.issues.flatMap((issue): YamlFault[] => {
    const path = issue.path as YamlPath;
    if (issue.code === "unrecognized_keys")
      return issue.keys.map((key) => ({
        line: text.lineOfKey(path, key),
        message: `unknown key "${key}": ${whatInstead(key, knownKeys(schema, path))}`,
      }));
    return [{ line: text.lineOf(path), message: `${spoken(path)} ${issue.message}` }];
  });
}

function whatInstead(key: string, known: readonly string[]): string {
  const meant = nearest(key, known);
  return meant === null ? `known here are ${known.join(", ")}` : `did you mean "${meant}"?`;
}

/** The path in words: `plates 1, photos 2, light`. */
function spoken(path: YamlPath): string {
  const words = path.map((step) => (typeof step === "number" ? String(step + 1) : step));
  const said = words.reduce(
    (all, step) => (/^\d+$/.test(step) ? `${all} ${step}` : all === "" ? step : `${all}, ${step}`),
    "",
  );
  return said === "" ? "the file" : said;
}

/** Keys that the schema knows at a path. */
function knownKeys(schema: z.ZodType, path: YamlPath): string[] {
  let here = unwrapped(schema);
  for (const step of path) {
    if (here.def.type === "array") here = unwrapped((here as z.ZodArray).def.element as z.ZodType);
    else here = unwrapped((here as z.ZodObject).shape[step] as z.ZodType);
  }
  return Object.keys((here as z.ZodObject).shape);
}

/** A schema without its "may be left out" and "first turn into" wrappings. */
function unwrapped(schema: z.ZodType): z.ZodType {
  const { type } = schema.def;
  if (type === "optional" || type === "nullable")
    return unwrapped((schema as z.ZodOptional | z.ZodNullable).def.innerType as z.ZodType);
  return type === "pipe" ? unwrapped((schema as z.ZodPipe).def.out as z.ZodType) : schema;
}
