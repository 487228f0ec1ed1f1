import { type Finding, FRONT_SIDES, type PlateReading } from "../model/index.ts";
import { INDEPENDENT, runOn, type TrackedPlate } from "../plate/together/index.ts";
import { standingTogether, TURNS, type Turn } from "../plate/upright/index.ts";
import type { GroupReading, PhotoGroup } from "./group.ts";
import { standing } from "./groupPhotos.ts";
import { nameLanes } from "./nameLanes.ts";
import { ranIn } from "./ranAlike.ts";
import type { ReadGroups } from "./run.ts";
import { type ReadAlike, usedTurn, WAY_UP_BY_OTHERS } from "./standAlike.ts";
import { WAY_UP_UNSURE } from "./standUpright.ts";

/** Plates whose spots run on no better, in the mean, or that show no more spots, may stand another way up. */
const POOR = { runsOn: 0.3, spots: 2, linesSure: 0.3 };
/** A turn less likely than the one used by so much, as the plate itself shows (ln), is not tried. */
const UNLIKELY = -4;
/** What the plate's own signs of how it stands count: they are right or wrong together. */
const OWN = 0.5;
/** Spots that run on so well in the mean are on tracks, not there by chance. */
const WELL = 0.8;
/** No plate's lines are surely wrong. */
const LEAST_SURE = 0.01;
/** By how much another way up must be likelier (ln) to be taken. */
const LIKELIER = 2;

/**
 * Plates that may stand another way up than they were read, and whose spots do not run on from those of the others: they are read
 * that way too, and stand as their spots run on better. A plate that is upside down shows few spots, and those where no other has any.
 */
export async function standOnTracks({ groups, readings }: ReadAlike, readGroups: ReadGroups): Promise<ReadAlike> {
  const tries = groups.flatMap((group, i) => {
    const turn = otherTurn(readings, i);
    return turn === null ? [] : [{ i, turn, group: standing(group, FRONT_SIDES[turn]) }];
  });
  if (tries.length === 0) return { groups, readings };
  const second = await readGroups(tries.map(({ group }) => group));
  const better = tries.flatMap((one, k) => {
    const before = readings[one.i];
    const told = standingTogether(before.ways!.map((way) => way.standing));
    const other = readings.map((reading, i) => (i === one.i ? second[k] : reading));
    const after = runsOn(other, one.i);
    const gained =
      INDEPENDENT * (after.sum - runsOn(readings, one.i).sum) +
      OWN * (told[one.turn] - told[usedTurn(before)!]) +
      logLines(second[k]) -
      logLines(before);
    const runsWell = after.spots > 0 && after.sum >= WELL * after.spots;
    return gained > LIKELIER && runsWell ? [{ ...one, reading: turned(second[k], one.turn, groups[one.i]) }] : [];
  });
  const taken = (i: number) => better.find((one) => one.i === i);
  return {
    groups: groups.map((group, i) => taken(i)?.group ?? group),
    readings: readings.map((reading, i) => taken(i)?.reading ?? reading),
  };
}

/** The other turn that is worth trying, or null where the plates stand well, or nothing can be said. */
function otherTurn(readings: readonly GroupReading[], i: number): Turn | null {
  const reading = readings[i];
  const used = usedTurn(reading);
  if (used === null || reading.plates.length === 0) return null;
  const { sum, spots, lanes } = runsOn(readings, i);
  if (lanes === 0) return null;
  const unsure = reading.plates.some((plate) => plate.reading.linesSure < POOR.linesSure);
  if (spots > POOR.spots && sum >= POOR.runsOn * spots && !unsure) return null;
  const told = standingTogether(reading.ways!.map((way) => way.standing));
  const others = TURNS.filter((turn) => turn !== used && told[turn] - told[used] > UNLIKELY);
  return others.length === 0 ? null : others.reduce((a, b) => (told[b] > told[a] ? b : a));
}

/** ln of how likely the lines of all plates of a group are right: one that is upside down seldom shows clear ones. */
function logLines({ plates }: GroupReading): number {
  return plates.reduce((sum, { reading }) => sum + Math.log(Math.max(LEAST_SURE, reading.linesSure)), 0);
}

/** How well the spots of a group run on from those of all others that ran in its eluent. */
function runsOn(readings: readonly GroupReading[], i: number) {
  const named = nameLanes(readings);
  const own = readings[i].plates.map(({ key }) => key);
  const mine = named.filter(({ key }) => own.includes(key));
  const eluents = mine.map(ranIn);
  const others = named.filter((plate) => !mine.includes(plate) && eluents.includes(ranIn(plate)));
  return runOn(
    mine.map(({ reading }) => tracked(reading)),
    others.map(({ reading }) => tracked(reading)),
  );
}

export function tracked({ linesSure, lanes }: PlateReading): TrackedPlate {
  return { linesSure, lanes: lanes.map(({ fraction, label, spots }) => ({ tube: fraction, label, spots })) };
}

function turned(reading: GroupReading, turn: Turn, { photos }: PhotoGroup): GroupReading {
  const findings: Finding[] = photos.map(({ file }) => ({
    code: "way-up-by-spots",
    message: `Which way up the plate stands is not clear from this photo; it is read with its solvent front ${FRONT_SIDES[turn]}, for so its spots run on from those of the other plates.`,
    remedy: "If that is wrong, write up: left, right, down or up beside the photo in run.yaml.",
    where: { photo: file },
  }));
  const settled = [WAY_UP_UNSURE, WAY_UP_BY_OTHERS];
  return { ...reading, findings: [...reading.findings.filter(({ code }) => !settled.includes(code)), ...findings] };
}
