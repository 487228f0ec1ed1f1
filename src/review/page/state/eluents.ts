import type { LogNote } from "../../../decisions/index.ts";

/** Tubes from which on another eluent ran, with its name. */
export function eluentChanges(notes: readonly LogNote[]): ReadonlyMap<number, string> {
  const told = notes.filter((n) => n.eluent !== null).sort((a, b) => a.from - b.from);
  const changed = told.filter((n, i) => n.eluent !== told[i - 1]?.eluent);
  return new Map(changed.map((n) => [n.from, n.eluent!]));
}
