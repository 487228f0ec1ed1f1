import type {
  Component,
  ElutionReading,
  ExpectedBand,
  Finding,
  PlateReading,
  Policy,
  SpotAssignment,
  StageResult,
} from "../model/index.ts";
import { advise, alarms } from "./advice/index.ts";
import { showsChance, type TubeBelief } from "./belief.ts";
import { groupSpots } from "./components/index.ts";
import type { Grouping, SpotMeaning } from "./grouping.ts";
import { judgeTubes } from "./judge.ts";
import { LOSSES } from "./loss.ts";
import { confidenceOf, misreadChance } from "./pools/confidence.ts";
import { decidePools } from "./pools/index.ts";
import { onGoodPhotos, readingSigns, tubeSignsOf } from "./pools/misread.ts";
import { followComponents } from "./profiles/index.ts";
import { componentId, listed, rfInWords, tubesInWords } from "./words.ts";

export interface ElutionOptions {
  /** Tubes collected; null: as many as the highest tube named. */
  readonly fractionCount: number | null;
  /** Volume of one fraction in mL, or null. */
  readonly volumeMl: number | null;
  readonly policy: Policy;
  /** A component id or an Rf ("A", "0.35"); null: no preference. */
  readonly want: string | null;
  /** Where a plan expects the components: weak evidence, the plates win; left out: nobody planned. */
  readonly expected?: readonly ExpectedBand[];
}

/** More tubes than any rack holds: a slip of the pen in a lane's name must not make thousands of tubes. */
const MOST_TUBES = 2000;

/**
 * From many plates to a decision: substances, their amounts over the tubes, pools, and what to do next.
 * Pure and deterministic; the order of `plates` makes no difference.
 */
export function decideElution(plates: readonly PlateReading[], options: ElutionOptions): StageResult<ElutionReading> {
  const ordered = [...plates].sort(byTubes);
  const named = ordered.flatMap((p) => p.lanes.flatMap((l) => (l.fraction === null ? [] : [l.fraction])));
  const count = Math.min(MOST_TUBES, options.fractionCount ?? Math.max(0, ...named));
  const grouping = groupSpots(ordered);
  const followed = followComponents(ordered, grouping, count, options.expected);
  const want = wanted(grouping, options.want);
  const weights = grouping.rf.map((_, k) => (want === null || k === want ? 1 : 0.5));
  const signs = readingSigns(ordered, grouping, followed.scatter);
  const tubeSigns = tubeSignsOf(signs, grouping, count);
  const misread = tubeSigns.map((s) => misreadChance(s));
  const judged = judgeTubes(followed.tubes, followed.unlooked, misread);
  const decided = decidePools(followed.tubes, judged, {
    policy: options.policy,
    volumeMl: options.volumeMl,
    want,
    weights,
    rf: grouping.rf,
    misread,
  });
  const measured = followed.profiles.map((p) => p.points.map((q) => q.measured));
  const tailing = followed.tracks.map((t) => (t.fitted && t.peak ? t.peak.tau / t.peak.sigma : null));
  const value: ElutionReading = {
    components: grouping.rf.map((rf, k) => componentOf(grouping, followed.tubes, k, rf)),
    assignments: assignments(ordered, grouping),
    profiles: followed.profiles.map((p, k) => ({ ...p, component: componentId(k) })),
    fractions: decided.fractions,
    pools: decided.pools,
    policies: decided.policies,
    advice: advise({
      plates: ordered,
      grouping,
      tubes: followed.tubes,
      odds: judged.odds,
      fractions: decided.fractions,
      pools: decided.pools,
      loss: LOSSES[options.policy],
      weights,
      limits: followed.tracks.map((t) => t.limit),
      confidence: (tube, posterior) => confidenceOf(posterior, true, misread[tube - 1]),
    }),
  };
  const findings = [
    ...inputFindings(grouping, options, count, named, want),
    ...alarms({
      plates: ordered,
      grouping,
      tubes: followed.tubes,
      measured,
      tailing,
      scatter: followed.scatter,
      misread: tubeSigns.reduce((sum, s) => sum + misreadChance(onGoodPhotos(s)), 0) / Math.max(1, tubeSigns.length),
    }),
  ];
  return { value, findings };
}

/** Doubts about what was given: tubes beyond the count, no spots, a wanted component that is not there. */
function inputFindings(
  grouping: Grouping,
  options: ElutionOptions,
  count: number,
  named: readonly number[],
  want: number | null,
): Finding[] {
  const found: Finding[] = [];
  const beyond = [...new Set(named.filter((n) => n > count || n < 1))].sort((a, b) => a - b);
  if (beyond.length > 0) {
    found.push({
      code: "tube-beyond-count",
      message: `${tubesInWords(beyond)} ${beyond.length === 1 ? "is" : "are"} spotted, but only ${count} tubes were collected; left out.`,
      remedy: "Correct the number of fractions or the lanes in run.yaml.",
      where: { fraction: beyond[0] },
    });
  }
  if (grouping.lanes.length > 0 && grouping.rf.length === 0) {
    found.push({
      code: "no-components",
      message: "No spot in any lane could be taken for a substance.",
      remedy: "Spot more, or look under another light or with a stain.",
      where: {},
    });
  }
  if (options.want !== null && want === null) {
    const known = grouping.rf.map((rf, k) => `${componentId(k)} (${rfInWords(rf)})`);
    found.push({
      code: "want-unknown",
      message: `The wanted component "${options.want}" was not found; all components count alike.`,
      remedy: known.length > 0 ? `Found: ${listed(known)}.` : "No component was found at all.",
      where: {},
    });
  }
  return found;
}

function byTubes(a: PlateReading, b: PlateReading): number {
  const first = (p: PlateReading) =>
    Math.min(Number.MAX_SAFE_INTEGER, ...p.lanes.flatMap((l) => (l.fraction === null ? [] : [l.fraction])));
  const x = first(a) - first(b);
  if (x !== 0) return x;
  if (a.id !== b.id) return a.id < b.id ? -1 : 1;
  return 0;
}

/** Index of the wanted component: by id, or the nearest within 0.05 of an Rf. */
function wanted(grouping: Grouping, want: string | null): number | null {
  if (want === null) return null;
  const byId = grouping.rf.findIndex((_, k) => componentId(k) === want.trim().toUpperCase());
  if (byId >= 0) return byId;
  const rf = Number(want.trim().replace(",", "."));
  if (want.trim() === "" || !Number.isFinite(rf) || grouping.rf.length === 0) return null;
  const away = grouping.rf.map((r) => Math.abs(r - rf));
  const nearest = away.indexOf(Math.min(...away));
  return away[nearest] <= 0.05 ? nearest : null;
}

function componentOf(grouping: Grouping, tubes: readonly TubeBelief[], k: number, rf: number): Component {
  const showing = tubes.filter((t) => t.seen && showsChance(t.components[k]) > 0.5).map((t) => t.number);
  const inReference = grouping.lanes.some(
    (lane) => lane.tube === null && lane.spots.some((s) => s.alone[k] + s.joint[k] + (s.joint[k - 1] ?? 0) > 0.5),
  );
  return {
    id: componentId(k),
    rf,
    rfSd: grouping.rfSd[k],
    first: showing[0] ?? null,
    last: showing[showing.length - 1] ?? null,
    inReference,
  };
}

function assignments(plates: readonly PlateReading[], grouping: Grouping): SpotAssignment[] {
  const byLane = new Map(grouping.lanes.map((lane) => [`${lane.plate}/${lane.ref.lane}`, lane]));
  return plates.flatMap((plate, p) =>
    plate.lanes.flatMap((lane) =>
      lane.spots.map((_, spot) => {
        const meaning = byLane.get(`${p}/${lane.index}`)?.spots.find((s) => s.spot === spot);
        return {
          plate: plate.id,
          lane: lane.index,
          spot,
          component: meaning ? mostLikely(meaning) : null,
        };
      }),
    ),
  );
}

/**
 * The component a spot most likely stands for (of two run together the likelier), be it in another lane that claims it,
 * too; null where it stands for none.
 */
function mostLikely({ alone, joint, elsewhere }: SpotMeaning): string | null {
  const total = [...alone, ...joint, ...elsewhere].reduce((s, p) => s + p, 0);
  if (total < 0.5) return null;
  const each = alone.map((p, k) => p + elsewhere[k] + 0.5 * (joint[k] + (joint[k - 1] ?? 0)));
  return componentId(each.indexOf(Math.max(...each)));
}
