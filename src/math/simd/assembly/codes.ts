/** What a channel has between four pixels, in linear light; `shift`: where in a pixel its code stands. */
function mixed(linear: usize, a: u32, b: u32, c: u32, d: u32, shift: u32, wa: f64, wb: f64, wc: f64, wd: f64): f32 {
  return <f32>(
    (wa * load<f64>(linear + <usize>(((a >> shift) & 255) << 3)) +
      wb * load<f64>(linear + <usize>(((b >> shift) & 255) << 3)) +
      wc * load<f64>(linear + <usize>(((c >> shift) & 255) << 3)) +
      wd * load<f64>(linear + <usize>(((d >> shift) & 255) << 3)))
  );
}

/** The bits of four pixels of one channel. */
function limited(limits: usize, a: u32, b: u32, c: u32, d: u32, shift: u32): u32 {
  return (
    load<u8>(limits + <usize>((a >> shift) & 255)) |
    load<u8>(limits + <usize>((b >> shift) & 255)) |
    load<u8>(limits + <usize>((c >> shift) & 255)) |
    load<u8>(limits + <usize>((d >> shift) & 255))
  );
}

/**
 * A straightened patch between the pixels themselves, bilinear, in linear light.
 * @param pixels `w` a row; 8-bit r, g, b; a byte behind the last is read
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
      const a = load<u32>(p);
      const b = load<u32>(p3);
      const c = load<u32>(q);
      const d = load<u32>(q3);
      store<f32>(out, mixed(linear, a, b, c, d, 0, w00, w10, w01, w11));
      store<f32>(out + size, mixed(linear, a, b, c, d, 8, w00, w10, w01, w11));
      store<f32>(out + 2 * size, mixed(linear, a, b, c, d, 16, w00, w10, w01, w11));
      const red = limited(limits, a, b, c, d, 0);
      const green = limited(limits, a, b, c, d, 8);
      store<u8>(bits, red | (green << 1) | (limited(limits, a, b, c, d, 16) << 2));
    }
  }
}

/**
 * Codes of values of linear light, from three planes into r, g, b interleaved.
 * @param encoded the code of each of `steps` + 1 values evenly from 0 to 1, 8-bit
 */
export function encodeCodes(light: usize, count: i32, encoded: usize, steps: i32, out: usize): void {
  const size = (<usize>count) << 2;
  for (const end = light + size; light < end; light += 4, out += 3) {
    store<u8>(out, codeOf(light, encoded, steps));
    store<u8>(out, codeOf(light + size, encoded, steps), 1);
    store<u8>(out, codeOf(light + 2 * size, encoded, steps), 2);
  }
}

function codeOf(value: usize, encoded: usize, steps: i32): u8 {
  return load<u8>(encoded + <usize>(<i32>(<f64>load<f32>(value) * <f64>steps + 0.5)));
}
