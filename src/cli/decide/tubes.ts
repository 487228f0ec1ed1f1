import { PlatepoolError } from "../../model/index.ts";

/** Tubes as a person types them: "7", "7-9", "7,9,11-12". */
export function parseTubes(text: string): number[] {
  const tubes = text.split(/[\s,]+/).flatMap((part) => {
    const [, from, to = from] = /^(\d+)(?:[-–](\d+))?$/.exec(part) ?? [];
    if (from === undefined || Number(from) < 1 || Number(to) < Number(from) || Number(to) > 2000)
      throw new PlatepoolError(
        "decision-tubes",
        `"${part}" is no tube: give a number, a range (7-9), or several (7,9-11)`,
      );
    return Array.from({ length: Number(to) - Number(from) + 1 }, (_, i) => Number(from) + i);
  });
  return [...new Set(tubes)];
}

/** One tube. */
export function parseTube(text: string): number {
  const tubes = parseTubes(text);
  if (tubes.length !== 1) throw new PlatepoolError("decision-tubes", `"${text}" is more than one tube: give one`);
  return tubes[0];
}
