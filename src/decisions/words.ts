/** "tube 4", "tubes 5-9", "tubes 2, 4, 6-8"; "no tube" of none. */
export function tubesInWords(numbers: readonly number[]): string {
  if (numbers.length === 0) return "no tube";
  const runs: [number, number][] = [];
  for (const n of [...numbers].sort((a, b) => a - b)) {
    const last = runs.at(-1);
    if (last !== undefined && n <= last[1] + 1) last[1] = n;
    else runs.push([n, n]);
  }
  const words = runs.map(([a, b]) => (a === b ? `${a}` : `${a}-${b}`)).join(", ");
  return `${numbers.length === 1 ? "tube" : "tubes"} ${words}`;
}

/** "pool 2", "pools 2 and 3". */
export function poolsInWords(names: readonly string[]): string {
  const last = names.at(-1) ?? "";
  return names.length < 2 ? `pool ${last}` : `pools ${names.slice(0, -1).join(", ")} and ${last}`;
}

/** Rf as a chemist writes it: two decimals (IUPAC Gold Book R05353). */
export function rfInWords(rf: number): string {
  return `Rf ${rf.toFixed(2)}`;
}

/** First letter large, for the start of a sentence. */
export function sentence(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
