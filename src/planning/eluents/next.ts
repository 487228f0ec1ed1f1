import type { Eluent, NextEluent, TrialAssessment } from "../../model/index.ts";
import { LIMIT_PLATES } from "../column/plates.ts";
import { columnResolution } from "../retention/index.ts";
import { IDEAL_RF, rfDesirability, scoreOf } from "./assess.ts";
import { fitRetention, type RetentionLaw } from "./fit.ts";
import { describeMixture } from "./parseEluent.ts";
import { solventStrength } from "./strength.ts";

/** One pair of solvents in the compositions tried; `share` is that of `strong`. */
export interface Family {
  readonly weak: string;
  readonly strong: string;
  readonly members: readonly { readonly trial: TrialAssessment; readonly share: number }[];
  readonly laws: ReadonlyMap<string, RetentionLaw>;
}

/** Additives below this share do not make a third solvent. */
const ADDITIVE = 0.025;

function mainParts(eluent: Eluent) {
  return eluent.parts.filter((part) => part.share > ADDITIVE || eluent.parts.length <= 2);
}

/** Share of `strong` among the two main solvents, or null where the eluent is another mixture. */
function shareIn(eluent: Eluent, weak: string, strong: string): number | null {
  const parts = mainParts(eluent);
  if (parts.some((part) => part.solvent !== weak && part.solvent !== strong)) return null;
  const of = (name: string) => parts.find((part) => part.solvent === name)?.share ?? 0;
  return of(strong) / (of(weak) + of(strong));
}

function lawsOf(members: Family["members"]): Map<string, RetentionLaw> {
  const ids = new Set(members.flatMap((m) => m.trial.spots.map((spot) => spot.component)));
  const laws = new Map<string, RetentionLaw>();
  for (const id of ids) {
    const points = members.flatMap(({ trial, share }) => {
      const spot = trial.spots.find((s) => s.component === id);
      return spot && spot.rf > 0.02 && spot.rf < 0.95 ? [{ share, rf: spot.rf }] : [];
    });
    if (points.length > 0) laws.set(id, fitRetention(points));
  }
  return laws;
}

/** Pairs of solvents among the eluents tried, each with how every component's Rf moves in it. */
export function familiesOf(trials: readonly TrialAssessment[]): readonly Family[] {
  const families: Family[] = [];
  for (const trial of trials) {
    const parts = mainParts(trial.eluent);
    if (parts.length !== 2) continue;
    const [a, b] = parts.map((part) => part.solvent);
    if (families.some((f) => [f.weak, f.strong].includes(a) && [f.weak, f.strong].includes(b))) continue;
    const known = solventStrength(a) !== null && solventStrength(b) !== null;
    let [weak, strong] = known && solventStrength(a)! > solventStrength(b)! ? [b, a] : [a, b];
    const collect = () =>
      trials.flatMap((t) => {
        const share = shareIn(t.eluent, weak, strong);
        return share === null ? [] : [{ trial: t, share }];
      });
    let members = collect();
    let laws = lawsOf(members);
    const measured = [...laws.values()].filter((law) => law.measured);
    if (measured.length > 0 && measured.reduce((sum, law) => sum + law.slope, 0) > 0) {
      [weak, strong] = [strong, weak];
      members = collect();
      laws = lawsOf(members);
    }
    families.push({ weak, strong, members, laws });
  }
  return families;
}

function expectedAt(family: Family, share: number, side: "rf" | "low" | "high" = "rf") {
  return [...family.laws]
    .map(([component, law]) => ({ component, rf: law.at(share)[side] }))
    .sort((a, b) => b.rf - a.rf);
}

function expectedScore(family: Family, share: number, wanted: string): number {
  const spots = expectedAt(family, share);
  const at = spots.findIndex((spot) => spot.component === wanted);
  if (at < 0) return 0;
  const near = [spots[at - 1], spots[at + 1]].filter((spot) => spot !== undefined);
  const resolutions = near.map((spot) =>
    columnResolution(Math.max(0.01, spot.rf), Math.max(0.01, spots[at].rf), LIMIT_PLATES),
  );
  const tailing = Math.min(
    ...family.members.flatMap((m) => m.trial.spots.filter((s) => s.component === wanted).map((s) => s.tailing)),
  );
  return scoreOf(spots[at].rf, resolutions.length > 0 ? Math.min(...resolutions) : null, tailing);
}

/** Gain in score for which an eluent that runs well already is left. Common practice, no source. */
const WORTH_IT = 1.15;

/** Share at which a law gives an Rf of 0.35, looked for between the ends of the range. */
function shareFor(law: RetentionLaw, side: "low" | "high", from: number, to: number): number {
  let best = from;
  for (let i = 0; i <= 200; i++) {
    const share = from + ((to - from) * i) / 200;
    if (Math.abs(law.at(share)[side] - IDEAL_RF) < Math.abs(law.at(best)[side] - IDEAL_RF)) best = share;
  }
  return best;
}

/**
 * What to try next within one pair of solvents: the composition with the best expected score, at most twice as strong
 * or half as weak as what was tried (beyond that the laws part). Null where nothing better is expected, or nothing
 * that scores `atLeast`.
 */
export function nextInFamily(
  family: Family,
  wanted: string,
  atLeast: number,
  nameOf: (id: string) => string,
): NextEluent | null {
  const law = family.laws.get(wanted);
  const mixed = family.members.filter((m) => m.share > 0);
  if (!law || mixed.length === 0) return null;
  const best = family.members.reduce((a, b) => (b.trial.score > a.trial.score ? b : a));
  const shares = mixed.map((m) => m.share);
  const low = Math.min(...shares) / 2;
  const high = Math.min(1, 2 * Math.max(...shares));
  let share = best.share;
  const expectedNow = expectedScore(family, share, wanted);
  let score = expectedNow;
  for (let i = 0; i <= 200; i++) {
    const candidate = low * (high / low) ** (i / 200);
    const value = expectedScore(family, candidate, wanted);
    if (value > score * 1.001) [share, score] = [candidate, value];
  }
  const now = best.trial.spots.find((spot) => spot.component === wanted);
  const fine = now !== undefined && rfDesirability(now.rf) > 0.8;
  if (share === best.share || score < Math.max(atLeast, (fine ? WORTH_IT : 1) * expectedNow)) return null;
  const direction = share > best.share ? "stronger" : "weaker";
  const expected = expectedAt(family, share);
  const ends = [shareFor(law, "low", low, high), shareFor(law, "high", low, high)].sort((a, b) => a - b);
  const there = expected.find((spot) => spot.component === wanted);
  const basis = law.measured
    ? `from how Rf moved in ${new Set(shares).size > 1 ? `${family.members.length} compositions` : "the compositions"} tried`
    : "a rule of thumb, as one composition alone was tried";
  return {
    direction,
    from: best.trial.eluent,
    strong: family.strong,
    weak: family.weak,
    shareNow: best.share,
    share,
    shareLow: Math.min(share, ends[0]),
    shareHigh: Math.max(share, ends[1]),
    expected,
    measured: law.measured,
    reason: `Go ${direction}: ${describeMixture(family.weak, family.strong, share)}, where ${nameOf(wanted)} should run at about Rf ${(there?.rf ?? 0).toFixed(2)} (${basis}).`,
  };
}
