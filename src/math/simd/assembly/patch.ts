/**
 * Means of one row of blocks of `step` x `step` pixels, and which of their pixels are at a limit.
 * @param pixels `rows` rows of `across` pixels, 8-bit r, g, b
 * @param linear for each code its linear light, double precision; `limits`: the bits that it sets for red, shifted by 1 for green, by 2 for blue
 * @param light r, g, b of each block, interleaved, single precision
 * @param mask the bits of each block, 8-bit
 */
export function averageBlocks(
  pixels: usize,
  across: i32,
  rows: i32,
  step: i32,
  linear: usize,
  limits: usize,
  light: usize,
  mask: usize,
): void {
  const line = <usize>across * 3;
  for (let x = 0; x < across; x += step, light += 12, mask++) {
    const wide = min(step, across - x);
    let r: f64 = 0;
    let g: f64 = 0;
    let b: f64 = 0;
    let bits: u32 = 0;
    for (let y = 0; y < rows; y++) {
      let p = pixels + <usize>y * line + <usize>x * 3;
      for (const end = p + <usize>wide * 3; p < end; p += 3) {
        const cr = <usize>load<u8>(p);
        const cg = <usize>load<u8>(p, 1);
        const cb = <usize>load<u8>(p, 2);
        r += load<f64>(linear + (cr << 3));
        g += load<f64>(linear + (cg << 3));
        b += load<f64>(linear + (cb << 3));
        bits |= load<u8>(limits + cr) | (load<u8>(limits + cg) << 1) | (load<u8>(limits + cb) << 2);
      }
    }
    const share: f64 = 1 / <f64>(rows * wide);
    store<f32>(light, <f32>(r * share));
    store<f32>(light, <f32>(g * share), 4);
    store<f32>(light, <f32>(b * share), 8);
    store<u8>(mask, <u8>bits);
  }
}

/** Four values of which two are r and g: those two. */
function redGreen(values: v128, weight: f64): v128 {
  return f64x2.mul(f64x2.promote_low_f32x4(values), f64x2.splat(weight));
}

function blue(values: v128, weight: f64): f64 {
  return <f64>f32x4.extract_lane(values, 2) * weight;
}

/**
 * A straightened patch between averaged blocks, bilinear.
 * @param light blocks, `w` a row and `h` rows; r, g, b interleaved, single precision; room for one more value behind them is read
 * @param place first the nine values of the homography from the patch to the picture, then x0, y0 of the blocks there and the share of a
 *   block that a pixel is: doubles
 * @param out planes of r, g and b, single precision, then the bits, 8-bit
 */
export function sampleBlocks(
  light: usize,
  mask: usize,
  w: i32,
  h: i32,
  place: usize,
  width: i32,
  height: i32,
  out: usize,
): void {
  const size = (<usize>(width * height)) << 2;
  const lastX = <f64>(w - 1);
  const lastY = <f64>(h - 1);
  const x0 = load<f64>(place, 72);
  const y0 = load<f64>(place, 80);
  const scale = load<f64>(place, 88);
  let bits = out + 3 * size;
  for (let y = 0; y < height; y++) {
    const yc = <f64>y + 0.5;
    const ya = load<f64>(place, 8) * yc;
    const yb = load<f64>(place, 32) * yc;
    const yk = load<f64>(place, 56) * yc;
    for (let x = 0; x < width; x++, out += 4, bits++) {
      const xc = <f64>x + 0.5;
      const k: f64 = 1 / (load<f64>(place, 48) * xc + yk + load<f64>(place, 64));
      const u = ((load<f64>(place) * xc + ya + load<f64>(place, 16)) * k - x0) * scale - 0.5;
      const v = ((load<f64>(place, 24) * xc + yb + load<f64>(place, 40)) * k - y0) * scale - 0.5;
      const sx = max<f64>(0, min<f64>(lastX, u));
      const sy = max<f64>(0, min<f64>(lastY, v));
      const ix = <i32>sx;
      const iy = <i32>sy;
      const fx = sx - <f64>ix;
      const fy = sy - <f64>iy;
      const right = <usize>select<i32>(1, 0, ix < w - 1);
      const down = <usize>select<i32>(w, 0, iy < h - 1);
      const m = <usize>(iy * w + ix);
      const w11 = fx * fy;
      const w01 = fy - w11;
      const w10 = fx - w11;
      const w00 = 1 - fx - w01;
      const p00 = v128.load(light + m * 12);
      const p10 = v128.load(light + (m + right) * 12);
      const p01 = v128.load(light + (m + down) * 12);
      const p11 = v128.load(light + (m + down + right) * 12);
      const rg = f64x2.add(
        f64x2.add(f64x2.add(redGreen(p00, w00), redGreen(p10, w10)), redGreen(p01, w01)),
        redGreen(p11, w11),
      );
      const single = f32x4.demote_f64x2_zero(rg);
      v128.store32_lane(out, single, 0);
      v128.store32_lane(out + size, single, 1);
      store<f32>(out + 2 * size, <f32>(blue(p00, w00) + blue(p10, w10) + blue(p01, w01) + blue(p11, w11)));
      store<u8>(
        bits,
        load<u8>(mask + m) | load<u8>(mask + m + right) | load<u8>(mask + m + down) | load<u8>(mask + m + down + right),
      );
    }
  }
}
