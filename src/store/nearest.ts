/** Edit distance of two words (Levenshtein 1966): insertions, deletions and changes of one letter. */
function editDistance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++)
      next.push(Math.min(row[j] + 1, next[j - 1] + 1, row[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1)));
    row = next;
  }
  return row[b.length];
}

/** The known word that was most likely meant, or null where none is close (a third of its letters at most). */
export function nearest(word: string, known: readonly string[]): string | null {
  const typed = word.toLowerCase();
  const ranked = known
    .map((k) => ({ k, d: editDistance(typed, k.toLowerCase()) }))
    .sort((a, b) => a.d - b.d || (a.k < b.k ? -1 : 1));
  const best = ranked[0];
  return best !== undefined && best.d <= Math.max(1, Math.ceil(best.k.length / 3)) ? best.k : null;
}
