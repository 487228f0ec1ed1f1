import { linearToSrgb } from "../../raster/linear.ts";
import type { Picture } from "../../raster/picture.ts";
import { normalStream } from "../layer/noise.ts";
import type { CameraRecipe } from "../recipe.ts";
import type { Scene } from "../scene/compose.ts";

const STEPS = 4096;

/**
 * Encoded value of each of 4097 linear levels: sRGB, then the camera's contrast curve, which is what keeps photos
 * from being strictly linear.
 * @param tone 0..1, 0: none
 */
function encodeTable(tone: number): Float32Array {
  return Float32Array.from({ length: STEPS + 1 }, (_, i) => {
    const e = linearToSrgb(i / STEPS);
    const s = e * e * (3 - 2 * e);
    return 255 * (e + tone * 0.5 * (s - e));
  });
}

/** Exposes a scene: white balance, shot and read noise, clipping, encoding, sharpening. */
export function expose(scene: Scene, camera: CameraRecipe): Picture {
  const { width, height, data } = scene;
  const table = encodeTable(camera.tone);
  const normal = normalStream(camera.seed);
  const shot = 1 / camera.fullWell;
  const read = camera.readNoise * camera.readNoise;
  const gains = camera.balance.map((b) => b * camera.exposure);
  const encoded = new Float32Array(data.length);
  for (let i = 0; i < data.length; ) {
    for (let ch = 0; ch < 3; ch++, i++) {
      const v = data[i] * gains[ch];
      const noisy = v + Math.sqrt(v * shot + read) * normal();
      const level = noisy <= 0 ? 0 : noisy >= 1 ? STEPS : noisy * STEPS;
      const k = Math.min(STEPS - 1, Math.floor(level));
      encoded[i] = table[k] + (table[k + 1] - table[k]) * (level - k);
    }
  }
  return { width, height, data: sharpened(encoded, width, height, camera.sharpen) };
}

/** Unsharp mask over a cross of neighbours, rounded to 8 bits. */
function sharpened(e: Float32Array, width: number, height: number, amount: number): Uint8Array {
  const out = new Uint8Array(e.length);
  const stride = width * 3;
  const strong = amount * 0.25;
  for (let y = 0; y < height; y++) {
    const up = y > 0 ? -stride : 0;
    const down = y < height - 1 ? stride : 0;
    const row = y * stride;
    for (let i = row; i < row + stride; i++) {
      let v = e[i];
      if (strong > 0 && i >= row + 3 && i < row + stride - 3)
        v += strong * (4 * v - e[i - 3] - e[i + 3] - e[i + up] - e[i + down]);
      out[i] = v <= 0 ? 0 : v >= 255 ? 255 : (v + 0.5) | 0;
    }
  }
  return out;
}
