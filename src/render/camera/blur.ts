import type { Scene } from "../scene/compose.ts";

/** Gauss kernel cut at 2.6 sigma, sum 1. */
function kernelOf(sigma: number): Float32Array {
  const radius = Math.max(1, Math.ceil(2.6 * sigma));
  const raw = Array.from({ length: 2 * radius + 1 }, (_, i) => Math.exp(-((i - radius) ** 2) / (2 * sigma * sigma)));
  const sum = raw.reduce((a, b) => a + b, 0);
  return Float32Array.from(raw, (v) => v / sum);
}

/** Blurs all three channels in place with a Gauss of `sigma` pixels. */
export function blurScene({ width, height, data }: Scene, sigma: number): void {
  if (sigma < 0.3) return;
  const kernel = kernelOf(sigma);
  const radius = (kernel.length - 1) / 2;
  const stride = width * 3;
  const padded = new Float32Array(stride + 6 * radius);
  for (let y = 0; y < height; y++) {
    const row = y * stride;
    padded.set(data.subarray(row, row + stride), 3 * radius);
    for (let i = 0; i < 3 * radius; i++) {
      padded[i] = data[row + (i % 3)];
      padded[3 * radius + stride + i] = data[row + stride - 3 + (i % 3)];
    }
    for (let i = 0; i < stride; i++) {
      let sum = 0;
      for (let k = 0, p = i; k < kernel.length; k++, p += 3) sum += kernel[k] * padded[p];
      data[row + i] = sum;
    }
  }
  const ring = Array.from({ length: kernel.length }, () => new Float32Array(stride));
  const rowAt = (y: number) => Math.min(height - 1, Math.max(0, y)) * stride;
  for (let k = 0; k < kernel.length; k++) ring[k].set(data.subarray(rowAt(k - radius), rowAt(k - radius) + stride));
  const last = data.slice((height - 1) * stride);
  for (let y = 0; y < height; y++) {
    const out = data.subarray(y * stride, (y + 1) * stride);
    out.fill(0);
    for (let k = 0; k < kernel.length; k++) {
      const line = ring[(y + k) % kernel.length];
      const weight = kernel[k];
      for (let i = 0; i < stride; i++) out[i] += weight * line[i];
    }
    const next = y + 1 + radius;
    // rows below y still hold the horizontally blurred values
    ring[y % kernel.length].set(next < height ? data.subarray(next * stride, (next + 1) * stride) : last);
  }
}
