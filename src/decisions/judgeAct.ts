import {
  type Act,
  type DecidedPool,
  type Decisions,
  PlatepoolError,
  type Result,
  type TubeEntry,
} from "../model/index.ts";
import { presentDivision, sameName } from "./division.ts";
import { judgeMending } from "./judgeMending.ts";
import { entryFaults } from "./typedEntry.ts";
import { tubesInWords } from "./words.ts";

/** Longest name of a pool, in characters. */
const LONGEST_NAME = 40;

/**
 * Tells whether an act can be, in the state it meets.
 * @param after id of the journal's last line that the person had before them; null: the newest, whatever it is
 * @throws PlatepoolError decision-overtaken, decision-tubes, decision-name, decision-nothing, decision-plate,
 *   decision-lane, decision-spot, decision-place, decision-component, decision-log
 */
export function judgeAct(act: Act, now: Decisions, result: Result, after: number | null): void {
  if (after !== null && after !== now.last)
    throw new PlatepoolError(
      "decision-overtaken",
      `something else was decided meanwhile (act ${now.last}), so this was not kept: look at how it stands now, then do it once more`,
    );
  if (act.kind === "divide") judgeDivision(act.pools, now, result);
  else if (act.kind === "mend") judgeMending(act.mending, result);
  else if (act.kind === "log") judgeEntry(act.entry, result);
  else if (act.kind === "return") judgeReturn(act.to, now);
  else if (act.of !== now[act.kind])
    throw new PlatepoolError(
      "decision-nothing",
      now[act.kind] === null ? `there is nothing to ${act.kind}` : `the next act to ${act.kind} is ${now[act.kind]}`,
    );
}

function judgeEntry(entry: TubeEntry, result: Result): void {
  const tubes = result.fractions.map((f) => f.number);
  const [fault] = entryFaults(entry, tubes);
  if (fault) throw new PlatepoolError("decision-log", `the tube log, ${fault.field}: ${fault.message}`);
}

function judgeReturn(to: number, now: Decisions): void {
  if (Number.isInteger(to) && to >= 0 && to < now.last) return;
  const known = now.last === 0 ? "nothing was decided yet" : `give an act from 0 (before the first) to ${now.last - 1}`;
  throw new PlatepoolError("decision-nothing", `there is no earlier state after act ${to}: ${known}`);
}

function judgeDivision(pools: readonly DecidedPool[], now: Decisions, result: Result): void {
  const before = presentDivision(result, now.division).flatMap((p) => p.fractions);
  const tubes = pools.flatMap((p) => p.fractions);
  const twice = tubes.filter((n, i) => tubes.indexOf(n) !== i);
  if (twice.length > 0) throw tubesFault(`${tubesInWords(twice)} would stand in two pools`);
  const unknown = tubes.filter((n) => !before.includes(n));
  if (unknown.length > 0) throw tubesFault(`there is no ${tubesInWords(unknown)}`);
  const left = before.filter((n) => !tubes.includes(n));
  if (left.length > 0) throw tubesFault(`${tubesInWords(left)} would stand in no pool`);
  for (const { name, fractions } of pools) {
    if (fractions.length === 0) throw tubesFault(`pool ${name} would hold no tube`);
    if (fractions.some((n, i) => i > 0 && n <= fractions[i - 1]))
      throw tubesFault(`the tubes of pool ${name} do not stand in rising order`);
    judgeName(name);
  }
  const again = pools.find((p, i) => pools.some((q, j) => j < i && sameName(q.name, p.name)));
  if (again) throw new PlatepoolError("decision-name", `there is a pool ${again.name} already: give another name`);
}

function tubesFault(message: string): PlatepoolError {
  return new PlatepoolError("decision-tubes", message);
}

function judgeName(name: string): void {
  if (name === "" || name !== name.trim()) throw new PlatepoolError("decision-name", "a pool needs a name");
  if ([...name].length > LONGEST_NAME)
    throw new PlatepoolError("decision-name", `a pool's name has at most ${LONGEST_NAME} characters`);
  if (/[\p{Cc}\p{Zl}\p{Zp}]/u.test(name))
    throw new PlatepoolError("decision-name", "a pool's name stands on one line, without control characters");
}
