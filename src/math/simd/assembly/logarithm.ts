const MANTISSA_BITS: i32 = 11;
const LOG10_2: f64 = 0.3010299956639812;

/** Decimal logarithms of `n` positive values, each with `offset` added: by exponent, and mantissa in a table of single precision. */
export function logarithms(p: usize, n: i32, offset: f64, out: usize, table: usize): void {
  for (let i: usize = 0; i < (<usize>n) << 2; i += 4) {
    const bits = reinterpret<i32>(<f32>(<f64>load<f32>(p + i) + offset));
    const mantissa = (bits >> (23 - MANTISSA_BITS)) & ((1 << MANTISSA_BITS) - 1);
    store<f32>(out + i, <f32>(<f64>((bits >> 23) - 127) * LOG10_2 + <f64>load<f32>(table + (mantissa << 2))));
  }
}
