import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../src/math/random.ts";
import { closed, opened } from "../../../src/plate/spots/opening.ts";
import { lowerSpread, takeOwnGroundOff } from "../../../src/plate/spots/ownGround.ts";
import {
  ACROSS,
  across,
  columnWeights,
  offsetOfColumn,
  RF_STEPS,
  rfOfRow,
  type Strip,
} from "../../../src/plate/spots/strip.ts";

const MIDDLE = columnWeights((o) => (Math.abs(o) < 0.15 ? 1 : 0));
const LANES = 6;

/** Lanes one pitch apart that show a signal by place: x in pitches from the first lane, Rf along. */
function lanesOf(signal: (x: number, rf: number) => number): Strip[] {
  return Array.from({ length: LANES }, (_, lane) => {
    const data = new Float32Array(RF_STEPS * ACROSS);
    for (let i = 0; i < data.length; i++)
      data[i] = signal(lane + offsetOfColumn(i % ACROSS), rfOfRow(Math.floor(i / ACROSS)));
    return { data };
  });
}

function bump(d: number, sigma: number): number {
  return Math.exp(-0.5 * (d / sigma) ** 2);
}

/** A cloud wider than two lanes, and as long as a quarter of the way. */
function cloud(x: number, rf: number): number {
  return 0.2 * bump(x - 2.4, 1.2) * bump(rf - 0.5, 0.14);
}

function spot(x: number, rf: number): number {
  return 0.15 * bump(x - 2, 0.15) * bump(rf - 0.52, 0.015);
}

const ROW = Array.from({ length: RF_STEPS }, (_, r) => r).find((r) => rfOfRow(r) >= 0.52)!;

function middles(strips: readonly Strip[]): Float64Array[] {
  return strips.map((strip) => across(strip, MIDDLE));
}

describe("takeOwnGroundOff", () => {
  it("takes a cloud off and leaves the spot within it", () => {
    const strips = lanesOf((x, rf) => cloud(x, rf) + spot(x, rf));
    takeOwnGroundOff(strips, 0.002);
    const profiles = middles(strips);
    expect(profiles[2][ROW]).toBeGreaterThan(0.11);
    expect(profiles[3][ROW]).toBeLessThan(0.05);
  });

  it("leaves spots that are so wide that they fill the gaps", () => {
    const wide = (x: number, rf: number) => bump(x - Math.round(x), 0.4) * bump(rf - 0.52, 0.025);
    const strips = lanesOf(wide);
    takeOwnGroundOff(strips, 0.002);
    for (const profile of middles(strips)) expect(profile[ROW]).toBeGreaterThan(0.85);
  });

  it("lifts no lane beside a spot of the other sign", () => {
    const strips = lanesOf((x, rf) => -bump(x - 2, 0.4) * bump(rf - 0.52, 0.025));
    takeOwnGroundOff(strips, 0.002);
    const profiles = middles(strips);
    expect(profiles[1][ROW]).toBeLessThan(0.02);
    expect(profiles[3][ROW]).toBeLessThan(0.02);
  });
});

describe("opened and closed", () => {
  const values = Float64Array.from([0, 0, 0, 0, 5, 0, 0, 0, 0, -5, 0, 0, 0, 0]);

  it("take off bumps and dips narrower than the window", () => {
    expect([...opened(values, 1)].every((v) => v <= 0)).toBe(true);
    expect([...closed(values, 1)].every((v) => v >= 0)).toBe(true);
    expect([...closed(opened(values, 1), 1)].map(Math.abs)).toEqual(new Array(values.length).fill(0));
  });

  it.each([1, 2, 5, 12, 40])("look at windows of %i values to each side, cut off at the ends", (reach) => {
    const random = seededRandom(reach);
    const values = Float64Array.from({ length: 29 }, () => random());
    const each = (from: Float64Array, of: (...values: number[]) => number) =>
      from.map((_, r) => of(...from.subarray(Math.max(0, r - reach), r + reach + 1)));
    expect(opened(values, reach)).toEqual(each(each(values, Math.min), Math.max));
    expect(closed(values, reach)).toEqual(each(each(values, Math.max), Math.min));
  });
});

describe("lowerSpread", () => {
  it("is the deviation of what lies below, whatever stands above", () => {
    // Quantiles of the normal distribution at thousandths, in a shuffled order (multiples of a number prime to it).
    const noise = (i: number) => Math.sqrt(2) * inverseErf((2 * (((i * 127) % 331) + 0.5)) / 331 - 1);
    const profile = Float64Array.from({ length: RF_STEPS }, (_, r) => 0.01 * noise(r) + (r > 150 && r < 180 ? 1 : 0));
    expect(lowerSpread([profile])).toBeGreaterThan(0.008);
    expect(lowerSpread([profile])).toBeLessThan(0.013);
  });
});

/** Winitzki's approximation (2008), good to 0.002: from memory. */
function inverseErf(x: number): number {
  const ln = Math.log(1 - x * x);
  const a = 2 / (Math.PI * 0.147) + ln / 2;
  return Math.sign(x) * Math.sqrt(Math.sqrt(a * a - ln / 0.147) - a);
}
