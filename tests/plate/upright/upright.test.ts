import { describe, expect, it } from "vitest";
import type { Quad } from "../../../src/model/index.ts";
import {
  goesItsOwnWay,
  likeliestTurn,
  type Standing,
  standingOf,
  type Turn,
  turnBesideOthers,
  turnQuad,
  uprightTurns,
} from "../../../src/plate/upright/index.ts";
import type { Picture } from "../../../src/raster/picture.ts";
import { canvas, expose, type Paint, paintQuad, tilted } from "../locate/scene.ts";

const LANES = 9;

/** A layer with ticks and figures at the origin, a pencil line or none, and tailed spots. */
function marked(u: number, v: number): [number, number, number] {
  const lane = Math.max(0, Math.min(LANES - 1, Math.round(u * (LANES + 1) - 1)));
  const off = u - (lane + 1) / (LANES + 1);
  const tick = Math.abs(off) < 0.004 && v > 0.85 && v < 0.89;
  const figure = Math.abs(Math.hypot(off, v - 0.93) - 0.012) < 0.004;
  const down = v - (0.3 + 0.07 * (lane % 5));
  const spot = Math.exp(-((off / 0.02) ** 2 + (down / (down > 0 ? 0.05 : 0.02)) ** 2));
  const front = Math.abs(v - 0.1 - 0.01 * u) < 0.012 ? 0.93 : 1;
  const k = (tick || figure ? 0.6 : 1) * (1 - 0.6 * spot) * front;
  return [190 * k, 200 * k, 170 * k];
}

/** Pencil lines at like distances from both ends, round spots; only the ticks on one of them tell. */
function lined(u: number, v: number): [number, number, number] {
  const lane = Math.max(0, Math.min(LANES - 1, Math.round(u * (LANES + 1) - 1)));
  const off = u - (lane + 1) / (LANES + 1);
  const line = Math.abs(v - 0.88) < 0.003 || Math.abs(v - 0.12) < 0.003;
  const tick = Math.abs(off) < 0.003 && Math.abs(v - 0.88) < 0.025;
  const spot = Math.exp(-((off / 0.02) ** 2 + ((v - 0.35 - 0.075 * (lane % 5)) / 0.025) ** 2));
  const k = (line || tick ? 0.7 : 1) * (1 - 0.5 * spot);
  return [190 * k, 200 * k, 170 * k];
}

/** A plain line at like distances from both ends, round spots: four lanes with one, the last with all four. */
function crudeLast(u: number, v: number): [number, number, number] {
  const spot = (lane: number, height: number) =>
    Math.exp(-(((u - 0.5 - (lane - 2) * 0.17) / 0.025) ** 2 + ((v - 0.5 - (height - 1.5) * 0.1) / 0.025) ** 2));
  const line = Math.abs(v - 0.88) < 0.003 || Math.abs(v - 0.12) < 0.003;
  const all = [0, 1, 2, 3].reduce((sum, k) => sum + spot(k, 3 - k) + spot(4, k), 0);
  const k = (line ? 0.7 : 1) * (1 - 0.5 * Math.min(1, all));
  return [190 * k, 200 * k, 170 * k];
}

const blank: Paint = () => [190, 200, 170];

/** A photo of a plate, its corners front up first. */
function photo(paint: Paint, degrees: number): { picture: Picture; front: Quad } {
  const on = canvas(640, 640, () => [60, 50, 45]);
  const front = tilted(320, 320, 420, 380, degrees);
  paintQuad(on, front, paint);
  return { picture: expose(on, 1.5, 7), front };
}

const log = (...p: number[]) => p.map(Math.log) as unknown as Standing;

describe("a plate's way up", () => {
  it.each([0, 1, 2, 3] as const)("is seen from ticks, figures, front and tails (%i quarter turns)", (turn) => {
    const { picture, front } = photo(marked, -90 * turn);
    // The corners as the photo shows them: what is now at the top left comes first.
    const asSeen = turnQuad(front, ((4 - turn) & 3) as Turn);
    expect(asSeen[0][0] + asSeen[0][1]).toBeLessThan(450);
    const [found] = uprightTurns([standingOf(picture, asSeen)]);
    expect(found).toEqual({ turn, sure: true });
    expect(turnQuad(asSeen, found.turn)).toEqual(front);
  });

  it("is left alone where nothing tells", () => {
    const { picture, front } = photo(blank, 0);
    expect(uprightTurns([standingOf(picture, front)])[0].turn).toBe(0);
  });

  it.each([0, 2] as const)("is seen from ticks on one of two like lines (%i quarter turns)", (turn) => {
    const { picture, front } = photo(lined, 90 * turn);
    const asSeen = turnQuad(front, ((4 - turn) & 3) as Turn);
    expect(standingOf(picture, asSeen)[turn]).toBeGreaterThan(Math.log(0.8));
  });

  it.each([0, 2] as const)("is seen from the lane that shows most, where that is told (%i quarter turns)", (turn) => {
    const { picture, front } = photo(crudeLast, 90 * turn);
    const asSeen = turnQuad(front, ((4 - turn) & 3) as Turn);
    const crude = { label: "crude", fraction: null };
    const others = [1, 2, 3, 4].map((fraction) => ({ label: String(fraction), fraction }));
    const likely = (names: (typeof crude | (typeof others)[number])[]) =>
      standingOf(picture, asSeen, () => ({ names, late: 0.5 }))[turn] -
      standingOf(picture, asSeen, () => ({ names, late: 0.5 }))[2 - turn];
    expect(likely([...others, crude])).toBeGreaterThan(likely([crude, ...others]) + 1);
  });

  it("in a run of poor ones is the likeliest of all together, upright where they hardly tell", () => {
    const leaning = log(0.15, 0.7, 0.05, 0.1);
    expect(likeliestTurn([leaning, leaning, leaning])).toBe(1);
    expect(likeliestTurn([log(0.3, 0.2, 0.4, 0.1), log(0.35, 0.2, 0.35, 0.1)])).toBe(0);
    expect(goesItsOwnWay(log(0.9999, 0.00003, 0.00004, 0.00003), 1)).toBe(true);
    expect(goesItsOwnWay(log(0.6, 0.2, 0.1, 0.1), 1)).toBe(false);
  });

  it("is kept against others that are not as sure, but hardly against a plate beside it in the photo", () => {
    const fifty = log(0.0196, 0.0001, 0.9802, 0.0001);
    expect(goesItsOwnWay(fifty, 0)).toBe(true);
    const upright = log(0.998, 0.0005, 0.001, 0.0005);
    expect(uprightTurns([fifty, upright, upright]).map((t) => t.turn)).toEqual([2, 0, 0]);
    expect(turnBesideOthers(fifty, { turn: 0, sure: true }).turn).toBe(0);
    expect(turnBesideOthers(log(0.0001, 0.0001, 0.9997, 0.0001), { turn: 0, sure: true }).turn).toBe(2);
  });

  it("is left alone, with a doubt, where the signs are half clear", () => {
    expect(uprightTurns([log(0.08, 0.001, 0.918, 0.001)])).toEqual([{ turn: 0, sure: false }]);
    expect(uprightTurns([log(0.02, 0.001, 0.978, 0.001)])).toEqual([{ turn: 2, sure: true }]);
    expect(uprightTurns([log(0.2, 0.5, 0.1, 0.2)])).toEqual([{ turn: 0, sure: false }]);
  });

  it("on its side but unclear to which is turned, with a doubt", () => {
    expect(uprightTurns([log(0.01, 0.6, 0.01, 0.38)])).toEqual([{ turn: 1, sure: false }]);
  });

  it("on its side beyond doubt is not turned like others that stand, though its sides are hard to tell apart", () => {
    const aside = log(0.000001, 0.4, 0.000001, 0.6);
    const up = log(0.998, 0.0005, 0.001, 0.0005);
    expect(uprightTurns([aside, up, up, up])[0]).toEqual({ turn: 3, sure: false });
    expect(turnBesideOthers(aside, { turn: 0, sure: true }).turn).toBe(3);
    expect(goesItsOwnWay(aside, 0)).toBe(true);
    expect(goesItsOwnWay(aside, 1)).toBe(false);
  });

  it("is shared by photos taken together, unless one clearly differs", () => {
    const poor = log(0.3, 0.3, 0.2, 0.2);
    const clear = log(0.001, 0.001, 0.001, 0.997);
    expect(uprightTurns([poor, clear]).map((t) => t.turn)).toEqual([3, 3]);
    const other = log(0.9999, 0.00003, 0.00004, 0.00003);
    expect(uprightTurns([other, clear, clear, clear]).map((t) => t.turn)).toEqual([0, 3, 3, 3]);
  });

  it("fits that of a photo seen to stand a quarter turn from it", () => {
    const up = log(0.86, 0.04, 0.05, 0.05);
    const lying = log(0.03, 0.9, 0.02, 0.05);
    expect(uprightTurns([up, lying], [false, true]).map((t) => t.turn)).toEqual([0, 1]);
    expect(uprightTurns([lying, up], [false, true]).map((t) => t.turn)).toEqual([1, 0]);
    // One of the two lies: the likelier, though alone it would be left as it is.
    const poor = log(0.35, 0.1, 0.1, 0.45);
    expect(uprightTurns([up, poor], [false, true])).toEqual([
      { turn: 0, sure: true },
      { turn: 3, sure: false },
    ]);
    expect(uprightTurns([poor, lying, lying], [false, true, true]).map((t) => t.turn)).toEqual([0, 1, 1]);
  });

  it("is not bent to a shape that misleads: two plates that both clearly stand upright", () => {
    const up = log(0.97, 0.01, 0.01, 0.01);
    expect(uprightTurns([up, up], [false, true]).map((t) => t.turn)).toEqual([0, 0]);
  });
});
