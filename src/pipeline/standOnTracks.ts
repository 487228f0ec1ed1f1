import { type Finding, FRONT_SIDES, type FrontSide, type PlateReading } from "../model/index.ts";
import { runOn, type TrackedPlate } from "../plate/together/index.ts";
import { standingTogether, TURNS, type Turn, turnedBy } from "../plate/upright/index.ts";
import type { GroupReading, PhotoGroup, PlateWay } from "./group.ts";
import { nameLanes } from "./nameLanes.ts";
import { ranIn } from "./ranAlike.ts";
import type { GroupsRead, ReadGroups } from "./run.ts";
import { WAY_UP_BY_OTHERS } from "./standAlike.ts";
import { WAY_UP_UNSURE } from "./standUpright.ts";

/** Plates whose spots run on no better, in the mean, or that show no more spots, may stand another way up. */
const POOR = { runsOn: 0.3, spots: 2, linesSure: 0.3 };
/** A turn less likely than the one used by so much, as the plate itself shows (ln), is not tried. */
const UNLIKELY = -4;
/** Spots of one plate lie off together: each counts by this share of one that stands for itself. */
const INDEPENDENT = 0.45;
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
 * @param groups as they were before any was turned like the others
 */
export async function standOnTracks(
  groups: readonly PhotoGroup[],
  alike: GroupsRead,
  readGroups: ReadGroups,
): Promise<GroupsRead> {
  const { readings } = alike;
  const tries = groups.flatMap((group, i) =>
    othersOf(readings, i).map((other) => ({ i, ...other, group: stood(group, other.ways) })),
  );
  if (tries.length === 0) return alike;
  const read = await readGroups(tries.map(({ group }) => group));
  let open = tries.map((one, k) => ({ ...one, reading: read[k] }));
  const [stands, now] = [[...alike.groups], [...readings]];
  // The clearest first: what stands wrongly misleads about the others.
  while (open.length > 0) {
    const gains = open.map((one) => gainedBy(one, now));
    const most = Math.max(...gains);
    if (most <= LIKELIER) break;
    const { i, group, reading, ways } = open[gains.indexOf(most)];
    stands[i] = group;
    now[i] = turned(reading, ways);
    open = open.filter((one) => one.i !== i);
  }
  return { groups: stands, readings: now };
}

/** By how much all together is likelier (ln) where a group stands another way; minus infinity where its spots do not run on well then. */
function gainedBy({ i, reading, likelier }: OtherWay & Tried, readings: readonly GroupReading[]): number {
  const after = runsOn(
    readings.map((before, j) => (j === i ? reading : before)),
    i,
  );
  if (after.spots === 0 || after.sum < WELL * after.spots) return Number.NEGATIVE_INFINITY;
  const gained = INDEPENDENT * (after.sum - runsOn(readings, i).sum) + OWN * likelier;
  return gained + logLines(reading) - logLines(readings[i]);
}

/** A group, by its index, as it was read another way up. */
interface Tried {
  readonly i: number;
  readonly reading: GroupReading;
}

/** Another way that the plates of a group may stand: how much likelier it is by what they show themselves (ln), and how each stands so. */
interface OtherWay {
  readonly likelier: number;
  readonly ways: readonly PlateWay[];
}

/** The other ways that are worth trying; none where the plates stand well, or nothing can be said. */
function othersOf(readings: readonly GroupReading[], i: number): OtherWay[] {
  const { plates, ways = [] } = readings[i];
  // The plates of one photo are told to stand alike.
  const apart = ways.some((way) => ways.some(({ file, turn }) => file === way.file && turn !== way.turn));
  if (ways.length === 0 || plates.length === 0 || apart) return [];
  const { sum, spots, lanes } = runsOn(readings, i);
  if (lanes === 0) return [];
  const unsure = plates.some((plate) => plate.reading.linesSure < POOR.linesSure);
  if (spots > POOR.spots && sum >= POOR.runsOn * spots && !unsure) return [];
  // Photos that were found to be turned against each other stay so.
  const told = standingTogether(ways.map(({ standing, turn }) => turnedBy(standing, turn)));
  return TURNS.slice(1).flatMap((more) => {
    const likelier = told[more] - told[0];
    if (likelier <= UNLIKELY) return [];
    return [{ likelier, ways: ways.map((way) => ({ ...way, turn: ((way.turn + more) & 3) as Turn })) }];
  });
}

function stood(group: PhotoGroup, ways: readonly PlateWay[]): PhotoGroup {
  const sides = sidesOf(ways);
  return {
    ...group,
    photos: group.photos.map((photo) => {
      const up = sides.get(photo.file);
      return up === undefined ? photo : { ...photo, up };
    }),
  };
}

/** Where the front points in each photo. */
function sidesOf(ways: readonly PlateWay[]): Map<string, FrontSide> {
  return new Map(ways.map(({ file, turn }) => [file, FRONT_SIDES[turn]]));
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

function turned(reading: GroupReading, ways: readonly PlateWay[]): GroupReading {
  const findings: Finding[] = [...sidesOf(ways)].map(([photo, side]) => ({
    code: "way-up-by-spots",
    message: `Which way up the plate stands is not clear from this photo; it is read with its solvent front ${side}, for so its spots run on from those of the other plates.`,
    remedy: "If that is wrong, write up: left, right, down or up beside the photo in run.yaml.",
    where: { photo },
  }));
  const settled = [WAY_UP_UNSURE, WAY_UP_BY_OTHERS];
  return { ...reading, findings: [...reading.findings.filter(({ code }) => !settled.includes(code)), ...findings] };
}
