import { type Finding, FRONT_SIDES } from "../model/index.ts";
import {
  goesItsOwnWay,
  likeliestTurn,
  standingTogether,
  type Turn,
  type UprightTurn,
  uprightTurns,
} from "../plate/upright/index.ts";
import type { GroupReading, PhotoGroup } from "./group.ts";
import { standing } from "./groupPhotos.ts";
import type { GroupsRead, ReadGroups } from "./run.ts";
import { WAY_UP_UNSURE } from "./standUpright.ts";

export const WAY_UP_BY_OTHERS = "way-up-by-others";

/**
 * Of the groups of a run, each read by itself, those whose plates stand otherwise than the run as a whole shows are read once more,
 * turned like the others. Photos of one run are mostly taken from one side, so that clear plates speak for poor ones, and several poor ones
 * together for each; a plate that is clearly turned another way goes its own.
 */
export async function readStandingAlike(
  { groups, readings: first }: GroupsRead,
  readGroups: ReadGroups,
): Promise<GroupsRead> {
  const turns = turnsOf(first);
  const again = groups.flatMap((group, i) => {
    const turn = turns[i]?.turn ?? null;
    return turn === null || turn === usedTurn(first[i]) ? [] : [{ i, turn, group: standing(group, FRONT_SIDES[turn]) }];
  });
  const second = again.length > 0 ? await readGroups(again.map(({ group }) => group)) : [];
  const turned = (i: number) => again.find((one) => one.i === i);
  return {
    groups: groups.map((group, i) => turned(i)?.group ?? group),
    readings: first.map((reading, i) => {
      const one = turned(i);
      if (one === undefined) return turns[i]?.sure ? withoutDoubt(reading) : reading;
      const read = second[again.indexOf(one)];
      const ways = first[i].ways?.map((way) => ({ ...way, turn: one.turn }));
      return { ...read, ways, findings: [...read.findings, ...turnedLikeOthers(groups[i], one.turn)] };
    }),
  };
}

/** For each group the turn that the run as a whole makes clear or, failing that, likely; null where nothing is to be said. */
function turnsOf(readings: readonly GroupReading[]): (UprightTurn | null)[] {
  const shown = readings.filter((r) => usedTurn(r) !== null);
  const standings = shown.map((r) => standingTogether(r.ways!.map((way) => way.standing)));
  // Groups whose own photos are turned differently, as what stands out on them shows, tell that this run was not taken from one side.
  const mixed = readings.filter((r) => !shown.includes(r)).flatMap(({ ways = [] }) => ways.map((way) => way.standing));
  const common = uprightTurns([...standings, ...mixed]);
  const likeliest = likeliestTurn([...standings, ...mixed]);
  return readings.map((reading) => {
    const of = shown.indexOf(reading);
    if (shown.length < 2 || of < 0) return null;
    if (common[of].sure) return common[of];
    return goesItsOwnWay(standings[of], likeliest) ? null : { turn: likeliest, sure: false };
  });
}

/** How all plates of a group were turned, or null where they differ, or somebody said how they stand. */
function usedTurn({ ways = [] }: GroupReading): Turn | null {
  return ways.length > 0 && ways.every(({ turn }) => turn === ways[0].turn) ? ways[0].turn : null;
}

function withoutDoubt(reading: GroupReading): GroupReading {
  return { ...reading, findings: reading.findings.filter((f) => f.code !== WAY_UP_UNSURE) };
}

function turnedLikeOthers({ photos }: PhotoGroup, turn: Turn): Finding[] {
  return photos.map(({ file }) => ({
    code: WAY_UP_BY_OTHERS,
    message: `Which way up the plate stands is not clear from this photo; it is read with its solvent front ${FRONT_SIDES[turn]}, like the others.`,
    remedy: "If that is wrong, write up: left, right, down or up beside the photo in run.yaml.",
    where: { photo: file },
  }));
}
