import type { Plane } from "../../raster/picture.ts";

/** Three weights, one per channel. */
export type Mix = [number, number, number];

/** Mean vector and covariance of the three channels over the pixels that `keep` accepts, every `step`-th pixel. */
function covariance(channels: readonly Plane[], keep: (i: number) => boolean, step: number): number[][] {
  const sum = [0, 0, 0];
  const cross = [
    [0, 0, 0],
    [0, 0, 0],
    [0, 0, 0],
  ];
  let n = 0;
  for (let i = 0; i < channels[0].data.length; i += step) {
    if (!keep(i)) continue;
    n++;
    for (let a = 0; a < 3; a++) {
      const va = channels[a].data[i];
      sum[a] += va;
      for (let b = 0; b <= a; b++) cross[a][b] += va * channels[b].data[i];
    }
  }
  const m = Math.max(n, 1);
  for (let a = 0; a < 3; a++)
    for (let b = 0; b <= a; b++) {
      cross[a][b] = cross[a][b] / m - (sum[a] / m) * (sum[b] / m);
      cross[b][a] = cross[a][b];
    }
  return cross;
}

function solve3(m: readonly number[][], v: readonly number[]): Mix {
  const [[a, b, c], [d, e, f], [g, h, i]] = m;
  const det = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
  const [x, y, z] = v;
  return [
    (x * (e * i - f * h) - b * (y * i - f * z) + c * (y * h - e * z)) / det,
    (a * (y * i - f * z) - x * (d * i - f * g) + c * (d * z - y * g)) / det,
    (a * (e * z - y * h) - b * (d * z - y * g) + x * (d * h - e * g)) / det,
  ];
}

/**
 * Weights of the channel mix with the best contrast to noise: w = S⁻¹ s, S the covariance of the ground, s the mean
 * direction of the spots (Fisher 1936, Annals of Eugenics 7, 179), scaled so that the mix reads as the density of the
 * channel in which spots show best. The covariance is loaded on its diagonal so that a common-mode texture cannot
 * turn the mix into a difference of near-equal channels.
 * @param smooth the three channels, smoothed to the size of a small spot
 * @param usable share of each channel's ground that is not clipped; a channel under a third is left out
 */
export function bestMix(smooth: readonly Plane[], usable: readonly number[], prior: Mix): Mix {
  const live = usable.map((u) => u > 0.34);
  if (!live.some(Boolean)) live.fill(true);
  const step = 7;
  const spread = smooth.map((p) => robustSpread(p, step));
  const quiet = (i: number) => smooth.every((p, c) => !live[c] || Math.abs(p.data[i]) < 3 * spread[c]);
  const noise = covariance(smooth, quiet, step);
  const load = 0.25 * Math.max(...live.map((l, c) => (l ? noise[c][c] : 0))) + 1e-9;
  for (let c = 0; c < 3; c++) {
    noise[c][c] += load;
    if (!live[c]) {
      for (let k = 0; k < 3; k++) noise[c][k] = noise[k][c] = 0;
      noise[c][c] = 1;
    }
  }
  let direction: Mix = [0, 1, 2].map((c) => (live[c] ? prior[c] : 0)) as Mix;
  for (let round = 0; round < 3; round++) {
    const w = solve3(noise, direction);
    const values = new Float32Array(smooth[0].data.length);
    for (let i = 0; i < values.length; i += step) {
      values[i] = w[0] * smooth[0].data[i] + w[1] * smooth[1].data[i] + w[2] * smooth[2].data[i];
    }
    direction = spotDirection(smooth, values, live, step) ?? direction;
  }
  const top = Math.max(...direction.map(Math.abs));
  const s = direction.map((v) => v / top) as Mix;
  const w = solve3(noise, s);
  const gain = w[0] * s[0] + w[1] * s[1] + w[2] * s[2];
  return w.map((v, c) => (live[c] ? v / gain : 0)) as Mix;
}

/** Mean channel vector where the current mix stands out most, or null where nothing does. */
function spotDirection(smooth: readonly Plane[], values: Float32Array, live: readonly boolean[], step: number) {
  const sample: number[] = [];
  for (let i = 0; i < values.length; i += step) sample.push(values[i]);
  sample.sort((a, b) => a - b);
  const at = (q: number) => sample[Math.min(sample.length - 1, Math.floor(q * sample.length))];
  const sd = (at(0.5) - at(0.16)) || 1e-9;
  const threshold = at(0.5) + 5 * sd;
  const sum: Mix = [0, 0, 0];
  let n = 0;
  for (let i = 0; i < values.length; i += step) {
    if (values[i] < threshold) continue;
    n++;
    for (let c = 0; c < 3; c++) if (live[c]) sum[c] += smooth[c].data[i];
  }
  return n < 12 ? null : sum;
}

function robustSpread(plane: Plane, step: number): number {
  const sample: number[] = [];
  for (let i = 0; i < plane.data.length; i += step * 3) sample.push(Math.abs(plane.data[i]));
  sample.sort((a, b) => a - b);
  return 1.4826 * (sample[sample.length >> 1] ?? 0) + 1e-7;
}
