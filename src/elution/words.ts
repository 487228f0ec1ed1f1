/** A, B, C … Z, AA, AB … from the fastest component down (index 0). */
export function componentId(index: number): string {
  let id = "";
  for (let n = index; n >= 0; n = Math.floor(n / 26) - 1) id = String.fromCharCode(65 + (n % 26)) + id;
  return id;
}

/** "Tube 4", "Tubes 5–9", "Tubes 2, 4 and 6–8"; numbers in rising order. */
export function tubesInWords(numbers: readonly number[]): string {
  const runs: string[] = [];
  for (let i = 0; i < numbers.length; ) {
    let j = i;
    while (j + 1 < numbers.length && numbers[j + 1] === numbers[j] + 1) j++;
    if (j === i + 1) runs.push(`${numbers[i]}`, `${numbers[j]}`);
    else runs.push(j > i ? `${numbers[i]}–${numbers[j]}` : `${numbers[i]}`);
    i = j + 1;
  }
  return `${numbers.length === 1 ? "Tube" : "Tubes"} ${listed(runs)}`;
}

/** "a", "a and b", "a, b and c". */
export function listed(items: readonly string[]): string {
  if (items.length < 2) return items.join("");
  return `${items.slice(0, -1).join(", ")} and ${items[items.length - 1]}`;
}

/** Rf as a chemist writes it: two decimals (IUPAC Gold Book R05353). */
export function rfInWords(rf: number): string {
  return `Rf ${Math.min(1, Math.max(0, rf)).toFixed(2)}`;
}

/** Whole per cent, never 0 or 100 for what is merely likely. */
export function percent(share: number): string {
  return `${Math.min(99, Math.max(1, Math.round(100 * share)))} %`;
}

/** First letter small, for use within a sentence. */
export function lower(words: string): string {
  return words.charAt(0).toLowerCase() + words.slice(1);
}
