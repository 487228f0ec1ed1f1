import type { Interval, TubeState } from "../../model/index.ts";
import { showsChance, type TubeBelief } from "../belief.ts";
import type { TubeOdds } from "../odds.ts";
import { componentId, listed, lower, percent, rfInWords, tubesInWords } from "../words.ts";

/** Below this confidence a tube deserves a sentence of its own. */
const DOUBT = 0.85;

/** From this chance on that a component shows, it does. */
const SHOWS = 0.95;

/** What is in a pool besides what its lanes show. */
export interface Inferred {
  /** Tubes nobody spotted. */
  readonly unseen: readonly number[];
  /** Tubes whose lanes show nothing. */
  readonly silent: readonly number[];
  /** The component of which most may be in a clean pool without showing; null: of none more than a trace. */
  readonly hidden: number | null;
}

/** Why a pool is what it is. */
export function poolReason(
  kind: TubeState,
  numbers: readonly number[],
  components: readonly number[],
  rf: readonly number[],
  purity: Interval,
  inferred: Inferred,
): string {
  const tubes = tubesInWords(numbers);
  const verb = numbers.length === 1 ? "shows" : "show";
  const names = components.map((k) => `${componentId(k)} (${rfInWords(rf[k])})`);
  const aside = asides(inferred.unseen, inferred.silent);
  if (kind === "empty") return `${tubes} ${verb} no spot.${aside}`;
  if (kind === "mixed") {
    const what = names.length === 1 ? `${names[0]}, perhaps with more` : `${listed(names)} together`;
    return `${tubes} ${verb} ${what}: keep apart and run again.${aside}`;
  }
  const trace =
    purity.mid < 0.985 && inferred.hidden === null ? `${names[0]} with at most a trace of others` : `only ${names[0]}`;
  const hidden =
    inferred.hidden === null
      ? ""
      : ` By the other tubes some ${componentId(inferred.hidden)} (${rfInWords(rf[inferred.hidden])}) may be there unseen: ${componentId(components[0])} may be no more than ${percent(purity.low)} of it.`;
  return `${tubes} ${verb} ${trace}; one spot is not proof of purity.${hidden}${aside}`;
}

/** What must be said of tubes that are in a pool without showing what it holds. */
function asides(unseen: readonly number[], silent: readonly number[]): string {
  const spotted =
    unseen.length > 0
      ? ` ${tubesInWords(unseen)} ${unseen.length === 1 ? "was" : "were"} not spotted: judged by the neighbours.`
      : "";
  const nothing =
    silent.length > 0
      ? ` ${tubesInWords(silent)} ${silent.length === 1 ? "shows nothing, but lies" : "show nothing, but lie"} between tubes that do.`
      : "";
  return spotted + nothing;
}

/** The doubt about one tube, or null where there is none worth a sentence. */
export function tubeReason(
  tube: TubeBelief,
  odds: TubeOdds,
  kind: TubeState,
  main: number | null,
  confidence: number,
): string | null {
  const name = `tube ${tube.number}`;
  if (!tube.seen) return `Nobody spotted ${name}; it is placed by its neighbours.`;
  if (tube.forgotten > 0.3)
    return `The lane of ${name} is empty where spots are expected: it may never have been spotted.`;
  if (tube.claimed)
    return `Spots in the lane of ${name} lie in the lane beside it as well: it is judged by its neighbours, too.`;
  if (confidence >= DOUBT) return null;
  const clean = odds.clean.reduce((s, p) => s + p, 0);
  const likely = tube.components
    .map((b, k) => ({ chance: showsChance(b), k }))
    .filter((c) => c.chance > 0.05 && c.k !== main)
    .sort((a, b) => b.chance - a.chance || a.k - b.k)[0];
  if (kind === "clean") {
    if (odds.empty > odds.mixed) return `The spot in ${name} is faint: the tube may be empty (${percent(odds.empty)}).`;
    if (likely && likely.chance > SHOWS)
      return `${componentId(likely.k)} shows in ${name} too, likely a trace; the tube may be mixed (${percent(odds.mixed)}).`;
    const trace = likely && odds.mixed < 0.5 * likely.chance ? `, likely a trace: mixed ${percent(odds.mixed)}` : "";
    return likely
      ? `${componentId(likely.k)} may be in ${name} as well (${percent(likely.chance)}${trace}).`
      : `${capital(name)} may be mixed (${percent(odds.mixed)}).`;
  }
  if (kind === "mixed") {
    const best = odds.clean.indexOf(Math.max(...odds.clean));
    return clean > 0.1
      ? `${capital(name)} may be clean in ${componentId(best)} (${percent(clean)}); kept apart to be safe.`
      : `What ${name} holds is uncertain.`;
  }
  return likely
    ? `A faint ${componentId(likely.k)} may be in ${name} (${percent(likely.chance)}).`
    : `Something faint may be in ${lower(name)}.`;
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
