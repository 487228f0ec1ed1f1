/** Plate fractions, Rf, probabilities and shares: four decimals say all that a photo can. */
export function fine(x: number): number {
  return decimals(x, 4);
}

/** Pixels. */
export function pixel(x: number): number {
  return decimals(x, 2);
}

/** Amounts, whose size is free: five significant figures. */
export function significant(x: number): number {
  return Number.isFinite(x) ? Number(x.toPrecision(5)) : 0;
}

function decimals(x: number, places: number): number {
  const rounded = Number(x.toFixed(places));
  return Number.isFinite(rounded) && rounded !== 0 ? rounded : 0;
}

/** The same record with its numbers rounded; keys keep their order. */
export function fineRecord<K extends string>(record: Readonly<Record<K, number>>): Record<K, number> {
  return Object.fromEntries(Object.entries<number>(record).map(([k, v]) => [k, fine(v)])) as Record<K, number>;
}
