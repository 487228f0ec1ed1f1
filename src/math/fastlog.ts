const MANTISSA_BITS = 11;
const TABLE = Float32Array.from({ length: 1 << MANTISSA_BITS }, (_, i) =>
  Math.log10(1 + (i + 0.5) / (1 << MANTISSA_BITS)),
);
const LOG10_2 = Math.log10(2);

/** So many at a time: what lies between the two steps stays near the processor. */
const CHUNK = 2048;
const shifted = new Float32Array(CHUNK);
const bits = new Int32Array(shifted.buffer);

/**
 * Decimal logarithm of many positive numbers at once, by exponent and a table of mantissas: within 1.1e-4, many times
 * as fast as `Math.log10`.
 * @param offset added to each number before the logarithm
 */
export function log10All(values: Float32Array, offset: number, out: Float32Array): void {
  for (let from = 0; from < values.length; from += CHUNK) {
    const n = Math.min(CHUNK, values.length - from);
    for (let i = 0; i < n; i++) shifted[i] = values[from + i] + offset;
    for (let i = 0; i < n; i++) {
      const b = bits[i];
      out[from + i] = ((b >> 23) - 127) * LOG10_2 + TABLE[(b >> (23 - MANTISSA_BITS)) & ((1 << MANTISSA_BITS) - 1)];
    }
  }
}
