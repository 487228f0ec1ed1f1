import type { LaneName } from "../../model/index.ts";
import { ANSWERS, type FigureMark, LETTER, PAIR } from "./figures.ts";
import { laneAt } from "./told.ts";

/** A character that should stand under or over a lane. */
interface Expected {
  readonly answer: number;
  readonly lane: number;
  /** Where, as a share of the plate's width. */
  readonly x: number;
}

/** How often the network met each answer, in each turn. */
const MET = { figure: 0.0126, letter: 0.015, pair: 0.025 };
/** Share of a mark's likelihood that is left whatever the network says. */
const WARY = 0.1;
/** Names stand within this of the plate's foot or head. */
const END = 0.26;
/** How far from the middle of its lane a name stands: shares of the way to the next lane and of the width; and how often anywhere. */
const OFF = { lanes: 0.3, plate: 0.02, anywhere: 0.05 };
/** Way from one figure of a name to the next, as a share of the width. */
const NEXT = 0.012;
/** Names stand on a line: its heights that are tried, its slants, how far off it a mark may be; shares of the height. */
const LINE = { step: 0.012, slants: [-0.03, 0, 0.03], reach: 0.02 };

/**
 * How well the marks near the foot, and near the head, read as the names of the lanes when the plate is turned: the best
 * way to pair them in order, from left to right (dynamic programming), marks and characters left out at will.
 * @param turn quarter turns clockwise
 * @returns tenths of the logarithm of how much likelier the paired marks are to look as they do; 0 where none reads so
 */
export function namesRead(
  marks: readonly FigureMark[],
  turn: number,
  names: readonly LaneName[],
): { foot: number; head: number } {
  const expected = charactersOf(names);
  const width = OFF.lanes / names.length + OFF.plate;
  const placed = marks.flatMap(({ x, y, shares }): Placed[] => {
    const [across, down] = [
      [x, y],
      [1 - y, x],
      [1 - x, 1 - y],
      [y, 1 - x],
    ][turn];
    if (down > END && down < 1 - END) return [];
    return [{ x: across, y: down, scores: scoresOf(shares, turn, across, expected, width) }];
  });
  const ordered = placed.sort((a, b) => a.x - b.x);
  return { foot: bestLine(ordered, 1 - END), head: bestLine(ordered, 0) };
}

/** A mark on the turned plate, with how well it pairs with each character alone, and with it and the one before. */
interface Placed {
  readonly x: number;
  readonly y: number;
  readonly scores: { readonly alone: Float64Array; readonly withBefore: Float64Array };
}

function charactersOf(names: readonly LaneName[]): Expected[] {
  return names.flatMap(({ fraction }, lane): Expected[] => {
    const x = laneAt(lane, names.length);
    if (fraction === null) return [{ answer: LETTER, lane, x }];
    const digits = [...String(fraction)];
    return digits.map((digit, k) => ({ answer: Number(digit), lane, x: x + (k - (digits.length - 1) / 2) * NEXT }));
  });
}

function scoresOf(shares: Float32Array, turn: number, x: number, expected: readonly Expected[], width: number) {
  const alone = new Float64Array(expected.length);
  const withBefore = new Float64Array(expected.length).fill(Number.NEGATIVE_INFINITY);
  const likelier = (answer: number, met: number) =>
    Math.log(((1 - WARY) * shares[turn * ANSWERS + answer]) / met + WARY);
  const pair = likelier(PAIR, MET.pair);
  expected.forEach((one, k) => {
    const off = (x - one.x) / width;
    const here = Math.log((1 - OFF.anywhere) * Math.exp((-off * off) / 2) + OFF.anywhere);
    alone[k] = here + likelier(one.answer, one.answer === LETTER ? MET.letter : MET.figure);
    if (k > 0 && expected[k - 1].lane === one.lane) withBefore[k] = here + pair;
  });
  return { alone, withBefore };
}

/** The best pairing of marks on one line that begins somewhere from `top` on, in tenths. */
function bestLine(marks: readonly Placed[], top: number): number {
  const zone = marks.filter(({ y }) => y >= top && y <= top + END);
  let best = 0;
  for (let level = top; level <= top + END; level += LINE.step)
    for (const slant of LINE.slants) {
      const line = zone.filter(({ x, y }) => Math.abs(y - level - slant * (x - 0.5)) < LINE.reach);
      if (line.length > 0) best = Math.max(best, pairing(line));
    }
  return best / 10;
}

function pairing(line: readonly Placed[]): number {
  const count = line[0].scores.alone.length;
  // Best sum with the marks so far and the first 0, 1, 2 ... characters.
  let sums = new Float64Array(count + 1);
  for (const { scores } of line) {
    const next = sums.slice();
    for (let k = 0; k < count; k++) {
      const two = k > 0 ? sums[k - 1] + scores.withBefore[k] : Number.NEGATIVE_INFINITY;
      next[k + 1] = Math.max(next[k + 1], next[k], sums[k] + scores.alone[k], two);
    }
    sums = next;
  }
  return sums[count];
}
