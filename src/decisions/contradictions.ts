import type { Contradiction, DecidedPool, Decisions, HeldComponent, Result } from "../model/index.ts";
import { undecidedTubes } from "./division.ts";
import { sameComponent } from "./matching.ts";
import { findPlate } from "./plates.ts";
import { mainOf } from "./readAs.ts";
import { rfInWords, sentence, tubesInWords } from "./words.ts";

/**
 * Where a reading disagrees with what was decided on an earlier one. The decision stands in any case; the person is
 * asked. What was known when it was decided is no contradiction.
 */
export function contradictions(decisions: Decisions, result: Result): Contradiction[] {
  const pools = decisions.division?.pools ?? [];
  return [
    ...pools.flatMap((pool) => ofPool(pool, result)),
    ...newTubes(undecidedTubes(result, decisions.division)),
    ...platesGone(decisions, result),
    ...loggedTubesGone(decisions, result),
  ];
}

const KEEP = "Look at the lanes, then accept the pool anew or change it.";

function ofPool(pool: DecidedPool, result: Result): Contradiction[] {
  const found: Contradiction[] = [];
  const say = (code: string, tubes: readonly number[], message: string, remedy = KEEP) => {
    if (tubes.length > 0)
      found.push({ code, message: sentence(message), remedy, pool: pool.name, fraction: tubes[0], photo: null });
  };
  const held = pool.holds[0] ?? null;
  const known = new Map(result.fractions.map((f) => [f.number, f]));
  const gone = pool.fractions.filter((n) => !known.has(n));
  const here = pool.fractions.flatMap((n) => known.get(n) ?? []);
  const of = (test: (f: (typeof here)[number]) => boolean) => here.filter(test).map((f) => f.number);
  say(
    "decided-tube-gone",
    gone,
    `${tubesInWords(gone)} of pool ${pool.name} ${gone.length === 1 ? "is" : "are"} in no plate and no count any more.`,
    "Correct the number of tubes or the lanes, or move the tubes.",
  );
  if (pool.kind === "clean") {
    const mixed = of((f) => f.state === "mixed");
    say("clean-now-mixed", mixed, `${asClean(pool, held)}, but ${reads(mixed)} mixed now.`);
    const other = of((f) => f.state === "clean" && held !== null && !isHeld(result, mainOf(f.composition), held));
    say("clean-now-other", other, `${asClean(pool, held)}, but ${reads(other)} clean in another component now.`);
  }
  if (pool.kind === "empty") {
    const shown = of((f) => f.state !== "empty");
    const verb = shown.length === 1 ? "shows" : "show";
    say(
      "empty-now-shown",
      shown,
      `pool ${pool.name} was decided as empty, but ${tubesInWords(shown)} ${verb} something now.`,
    );
  }
  if (pool.kind === "mixed" && here.length > 0 && gone.length === 0 && allClean(here))
    say(
      "mixed-now-clean",
      pool.fractions,
      `pool ${pool.name} was decided as mixed, but all its tubes read clean in one component now.`,
    );
  return found;
}

function asClean(pool: DecidedPool, held: HeldComponent | null): string {
  const what = held === null ? "" : ` in ${held.component} (${rfInWords(held.rf)})`;
  return `pool ${pool.name} was decided as clean${what}`;
}

function reads(tubes: readonly number[]): string {
  return `${tubesInWords(tubes)} ${tubes.length === 1 ? "reads" : "read"}`;
}

function allClean(tubes: readonly Result["fractions"][number][]): boolean {
  const mains = new Set(tubes.map((f) => mainOf(f.composition)));
  return tubes.every((f) => f.state === "clean") && mains.size === 1;
}

/** True where a component of the reading stands where the decided one stood; letters may have changed. */
function isHeld(result: Result, id: string | null, held: HeldComponent): boolean {
  const now = sameComponent(result.components, held.rf);
  return now !== null && result.components[now].id === id;
}

function newTubes(tubes: readonly number[]): Contradiction[] {
  if (tubes.length === 0) return [];
  const message = `${sentence(tubesInWords(tubes))} ${tubes.length === 1 ? "is" : "are"} new since the pools were decided.`;
  const remedy = "They stand as suggested: accept them or change them.";
  return [{ code: "tube-undecided", message, remedy, pool: null, fraction: tubes[0], photo: null }];
}

function loggedTubesGone({ log }: Decisions, result: Result): Contradiction[] {
  const last = Math.max(0, ...result.fractions.map((f) => f.number));
  const gone = log.filter((e) => e.to > last).map((e) => e.to);
  if (gone.length === 0) return [];
  const message = `The tube log speaks of tube ${Math.max(...gone)}, but the last tube of the run is ${last} now.`;
  const remedy = "Set fractions: count in run.yaml; what was written is kept and counts again then.";
  return [{ code: "logged-tube-gone", message, remedy, pool: null, fraction: null, photo: null }];
}

function platesGone(decisions: Decisions, result: Result): Contradiction[] {
  return decisions.plates
    .filter((mending) => findPlate(result, mending.plate) === null)
    .map((mending) => {
      const photo = mending.plate.photos[0] ?? null;
      const message = `The plate of ${photo} was mended by hand, but no reading shows it any more.`;
      const remedy = "Put the photo back; what was mended is kept and counts again then.";
      return { code: "mended-plate-gone", message, remedy, pool: null, fraction: null, photo };
    });
}
