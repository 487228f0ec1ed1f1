import type { Act, DecidedPool, Mending, TubeEntry } from "../model/index.ts";
import type { HistoryEntry } from "./replay.ts";
import { poolsInWords, rfInWords, tubesInWords } from "./words.ts";

/** An act in a line of words, for the history. */
export function describeAct({ line: { act }, met }: HistoryEntry): string {
  switch (act.kind) {
    case "divide":
      return describeDivision(act.done, act.pools, met?.pools ?? null);
    case "mend":
      return describeMending(act.mending);
    case "log":
      return describeEntry(act.entry);
    case "return":
      return act.to === 0 ? "back to before anything was decided" : `back to how it stood after act ${act.to}`;
    default:
      return `${act.kind} act ${act.of}`;
  }
}

/** "tubes 7-9: 12 mL, from there on hexane/ethyl acetate 3:1". */
function describeEntry({ from, to, volumeMl, eluent, flask, note }: TubeEntry): string {
  const tubes = from === to ? `tube ${from}` : `tubes ${from}-${to}`;
  const said = [
    volumeMl === undefined ? [] : volumeMl === null ? "the usual volume" : `${volumeMl} mL`,
    eluent === undefined ? [] : eluent === null ? "no change of eluent" : `from there on ${eluent}`,
    flask === undefined ? [] : flask === null ? "no change of flask" : `from there on into flask ${flask}`,
    note === undefined ? [] : note === null ? "no note" : `note: ${note}`,
  ];
  return `tube log, ${tubes}: ${said.flat().join(", ")}`;
}

type Divide = Extract<Act, { kind: "divide" }>;

const DEEDS: Readonly<Record<Divide["done"], string>> = {
  accept: "accepted",
  reopen: "opened again",
  boundary: "moved a boundary",
  move: "moved tubes",
  split: "split",
  merge: "merged",
  name: "named",
};

function describeDivision(done: Divide["done"], pools: readonly DecidedPool[], before: readonly DecidedPool[] | null) {
  const fresh = pools.filter((p) => !before?.some((q) => alike(p, q)));
  if (done === "accept" && pools.every((p) => p.accepted)) return `accepted all ${pools.length} pools`;
  const named = fresh.length > 0 && fresh.length <= 4 && before !== null ? fresh : pools.filter((p) => p.accepted);
  if (named.length === 0 || named.length > 4) return `${DEEDS[done]}; ${pools.length} pools`;
  const words = named.map((p) => `${p.name} = ${tubesInWords(p.fractions)}`).join("; ");
  return `${DEEDS[done]}: ${poolsInWords(named.map((p) => p.name)).split(" ")[0]} ${words}`;
}

function alike(a: DecidedPool, b: DecidedPool): boolean {
  return a.name === b.name && a.accepted === b.accepted && a.fractions.join() === b.fractions.join();
}

function describeMending(mending: Mending): string {
  if (mending.what === "components-merge") return `${mending.rf.map(rfInWords).join(" and ")} count as one component`;
  if (mending.what === "component-split")
    return `the component at ${rfInWords(mending.rf)} counts as two, above and below ${rfInWords(mending.at)}`;
  const where = mending.plate.photos[0] ?? "";
  switch (mending.what) {
    case "corners":
      return `${mending.photo}: corners of the plate moved`;
    case "origin":
    case "front":
      return `${where}: ${mending.what} moved`;
    case "lanes":
      return `${where}: lane ${{ add: "added", move: "moved", strike: "struck" }[mending.done]}; ${mending.lanes.length} lanes`;
    case "lane-name":
      return `${where}: a lane is ${mending.lane.fraction === null ? mending.lane.label : `tube ${mending.lane.fraction}`}`;
    case "spot-add":
      return `${where}: spot added at ${rfInWords(mending.spot.rf)}`;
    case "spot-move":
      return `${where}: spot moved from ${rfInWords(mending.spot.rf)} to ${rfInWords(mending.to.rf)}`;
    case "spot-strike":
      return `${where}: spot struck at ${rfInWords(mending.spot.rf)}`;
  }
}
