/** What one channel has between four pixels, in linear light. */
function mixed(linear: usize, a: usize, b: usize, c: usize, d: usize, wa: f64, wb: f64, wc: f64, wd: f64): f32 {
  return <f32>(
    (wa * load<f64>(linear + ((<usize>load<u8>(a)) << 3)) +
      wb * load<f64>(linear + ((<usize>load<u8>(b)) << 3)) +
      wc * load<f64>(linear + ((<usize>load<u8>(c)) << 3)) +
      wd * load<f64>(linear + ((<usize>load<u8>(d)) << 3)))
  );
}

/** The bits of four pixels of one channel. */
function limited(limits: usize, a: usize, b: usize, c: usize, d: usize): u32 {
  return (
    load<u8>(limits + <usize>load<u8>(a)) |
    load<u8>(limits + <usize>load<u8>(b)) |
    load<u8>(limits + <usize>load<u8>(c)) |
    load<u8>(limits + <usize>load<u8>(d))
  );
}

/**
 * A straightened patch between the pixels themselves, bilinear, in linear light.
 * @param pixels `w` a row and `h` rows; 8-bit r, g, b
 * @param linear for each code its linear light, double precision; `limits`: the bits that it sets for red, shifted by 1 for green, by 2 for blue
 * @param place the nine values of the homography from the patch to the picture, then there the column and the row of the first pixel and of
 *   the last: doubles
 * @param out planes of r, g and b, single precision, then the bits, 8-bit
 */
export function sampleCodes(
  pixels: usize,
  w: i32,
  linear: usize,
  limits: usize,
  place: usize,
  width: i32,
  height: i32,
  out: usize,
): void {
  const size = (<usize>(width * height)) << 2;
  const x0 = load<f64>(place, 72);
  const y0 = load<f64>(place, 80);
  const lastX = load<f64>(place, 88);
  const lastY = load<f64>(place, 96);
  const line = <usize>w * 3;
  let bits = out + 3 * size;
  for (let y = 0; y < height; y++) {
    const yc = <f64>y + 0.5;
    const ya = load<f64>(place, 8) * yc;
    const yb = load<f64>(place, 32) * yc;
    const yk = load<f64>(place, 56) * yc;
    for (let x = 0; x < width; x++, out += 4, bits++) {
      const xc = <f64>x + 0.5;
      const k: f64 = 1 / (load<f64>(place, 48) * xc + yk + load<f64>(place, 64));
      const sx = max<f64>(x0, min<f64>(lastX, (load<f64>(place) * xc + ya + load<f64>(place, 16)) * k - 0.5));
      const sy = max<f64>(y0, min<f64>(lastY, (load<f64>(place, 24) * xc + yb + load<f64>(place, 40)) * k - 0.5));
      const ix = <i32>sx;
      const iy = <i32>sy;
      const fx = sx - <f64>ix;
      const fy = sy - <f64>iy;
      const p = pixels + <usize>(iy - <i32>y0) * line + <usize>(ix - <i32>x0) * 3;
      const p3 = <f64>ix < lastX ? p + 3 : p;
      const q = <f64>iy < lastY ? p + line : p;
      const q3 = q + (p3 - p);
      const w11 = fx * fy;
      const w01 = fy - w11;
      const w10 = fx - w11;
      const w00 = 1 - fx - w01;
      store<f32>(out, mixed(linear, p, p3, q, q3, w00, w10, w01, w11));
      store<f32>(out + size, mixed(linear, p + 1, p3 + 1, q + 1, q3 + 1, w00, w10, w01, w11));
      store<f32>(out + 2 * size, mixed(linear, p + 2, p3 + 2, q + 2, q3 + 2, w00, w10, w01, w11));
      store<u8>(
        bits,
        limited(limits, p, p3, q, q3) |
          (limited(limits, p + 1, p3 + 1, q + 1, q3 + 1) << 1) |
          (limited(limits, p + 2, p3 + 2, q + 2, q3 + 2) << 2),
      );
    }
  }
}
