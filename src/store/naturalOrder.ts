const collator = new Intl.Collator("en", { numeric: true, sensitivity: "base" });

/** Orders file names as people count: p2 before p10, capitals beside small letters; the same on every machine. */
export function naturalOrder(a: string, b: string): number {
  return collator.compare(a, b) || (a < b ? -1 : a > b ? 1 : 0);
}
