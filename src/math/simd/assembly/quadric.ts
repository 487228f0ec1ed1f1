/**
 * Rows of values less a quadratic surface a + b u + c v + d u u + e u v + f v v, where u and v run from -1 to 1 over the outer borders.
 * @param terms a to f, doubles
 */
export function lessQuadric(src: usize, width: i32, height: i32, terms: usize, dst: usize): void {
  for (let y = 0; y < height; y++) {
    const v: f64 = <f64>(2 * y + 1) / <f64>height - 1;
    let x = 0;
    for (; x + 1 < width; x += 2, src += 8, dst += 8) {
      const u = f64x2.sub(
        f64x2.div(f64x2.convert_low_i32x4_s(pairOf(2 * x + 1)), f64x2.splat(<f64>width)),
        f64x2.splat(1),
      );
      const values = f64x2.promote_low_f32x4(v128.load64_zero(src));
      v128.store64_lane(dst, f32x4.demote_f64x2_zero(f64x2.sub(values, surfaceAt(terms, u, v))), 0);
    }
    for (; x < width; x++, src += 4, dst += 4) {
      const u = f64x2.splat(<f64>(2 * x + 1) / <f64>width - 1);
      const surface = f64x2.extract_lane(surfaceAt(terms, u, v), 0);
      store<f32>(dst, <f32>(<f64>load<f32>(src) - surface));
    }
  }
}

/** A number and that two above it. */
function pairOf(first: i32): v128 {
  return i32x4.replace_lane(i32x4.splat(first), 1, first + 2);
}

function surfaceAt(terms: usize, u: v128, v: f64): v128 {
  const a = f64x2.splat(load<f64>(terms));
  const b = f64x2.splat(load<f64>(terms, 8));
  const d = f64x2.splat(load<f64>(terms, 24));
  const e = f64x2.splat(load<f64>(terms, 32));
  const cv = f64x2.splat(load<f64>(terms, 16) * v);
  const fvv = f64x2.splat(load<f64>(terms, 40) * v * v);
  let sum = f64x2.add(f64x2.add(a, f64x2.mul(b, u)), cv);
  sum = f64x2.add(sum, f64x2.mul(f64x2.mul(d, u), u));
  sum = f64x2.add(sum, f64x2.mul(f64x2.mul(e, u), f64x2.splat(v)));
  return f64x2.add(sum, fvv);
}
