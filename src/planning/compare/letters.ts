import type { PlanCheck } from "../../model/index.ts";

/** The reading's letter for a planned component; null where it was not found. Without a check the letters are one. */
export function readingLetter(check: PlanCheck | null, planned: string): string | null {
  if (check === null) return planned;
  return check.bands.find((band) => band.planned === planned)?.found ?? null;
}

/** Names by the plan's letters, turned into names by the reading's; those not found are left out. */
export function readingNames(
  check: PlanCheck | null,
  names: Readonly<Record<string, string>>,
): Readonly<Record<string, string>> {
  return Object.fromEntries(
    Object.entries(names).flatMap(([planned, name]) => {
      const found = readingLetter(check, planned);
      return found === null ? [] : [[found, name]];
    }),
  );
}
