import { memoryFor, ROOM, vectorCode } from "./simd/index.ts";

/** Of a mantissa, the bits that the table goes by. */
const MANTISSA_BITS = 11;
const LOGARITHMS = Float32Array.from({ length: 1 << MANTISSA_BITS }, (_, i) =>
  Math.log10(1 + (i + 0.5) / (1 << MANTISSA_BITS)),
);

/**
 * Decimal logarithm of many positive numbers at once, by exponent and a table of mantissas: within 1.1e-4, many times
 * as fast as `Math.log10`.
 * @param offset added to each number before the logarithm
 */
export function log10All(values: Float32Array, offset: number, out: Float32Array): void {
  const bytes = 4 * values.length;
  const [table, src] = [ROOM + 2 * bytes, ROOM + bytes];
  const memory = memoryFor(2 * bytes + 4 * LOGARITHMS.length);
  memory.set(LOGARITHMS, table / 4);
  memory.set(values, src / 4);
  vectorCode().logarithms(src, values.length, offset, ROOM, table);
  out.set(memory.subarray(ROOM / 4, src / 4));
}
