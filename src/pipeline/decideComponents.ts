import { rfInWords, sameComponent } from "../decisions/index.ts";
import { decideElution, type ElutionOptions } from "../elution/index.ts";
import type { ComponentMending, Contradiction, ElutionReading, PlateReading, StageResult } from "../model/index.ts";
import { asRead, joined, type ShownPlates, sidesOf, splitApart } from "./componentEvidence.ts";

export interface ComponentsDecided extends StageResult<ElutionReading> {
  /** Mendings of components that this reading has nothing for. */
  readonly unmet: readonly Contradiction[];
}

/**
 * Decides with the components as a person has them. Each mending is worked into the evidence, in order, and the decision
 * made anew: spots of components that are one are laid onto one Rf, those of a component that is two are drawn apart.
 * What is handed back has the true Rf and the spots as they were read. See docs/methods/decisions.md.
 */
export function decideComponents(
  plates: readonly PlateReading[],
  mendings: readonly ComponentMending[],
  options: ElutionOptions,
): ComponentsDecided {
  let shown: ShownPlates = asRead(plates);
  let decided = decideElution(plates, options);
  const unmet: Contradiction[] = [];
  for (const mending of mendings) {
    if (alreadySo(shown, decided.value, mending)) continue;
    const changed = withMending(shown, decided.value, mending);
    if (changed === null) {
      unmet.push(componentGone(mending));
      continue;
    }
    shown = changed;
    decided = decideElution(
      shown.plates.map((p) => p.reading),
      options,
    );
  }
  return { ...(shown.changed ? told(decided, shown) : decided), unmet };
}

/** Of a component that was split, the reading may hold so large a share of one half's spots in the other's component. */
const STRAY = 0.1;

/** True where the reading makes by itself what a person had to: the merged are one, the halves stand on their own sides. */
function alreadySo(shown: ShownPlates, reading: ElutionReading, mending: ComponentMending): boolean {
  const components = reading.components.map((c) => ({ ...c, rf: shown.trueRf(c.rf) }));
  if (mending.what === "components-merge") {
    const [a, b] = mending.rf.map((rf) => sameComponent(components, rf));
    return a !== null && a === b;
  }
  const own = sameComponent(components, mending.rf);
  if (own === null) return false;
  const { below, above } = sidesOf(shown, reading.assignments, reading.components[own], mending.at);
  if (Math.min(below, above) > STRAY * (below + above)) return false;
  return (
    sameComponent(
      components.filter(({ rf }) => rf > mending.at === below > above),
      mending.at,
    ) !== null
  );
}

function withMending(shown: ShownPlates, reading: ElutionReading, mending: ComponentMending): ShownPlates | null {
  const components = reading.components.map((c) => ({ ...c, rf: shown.trueRf(c.rf) }));
  const find = (rf: number) => {
    const at = sameComponent(components, rf);
    return at === null ? null : reading.components[at];
  };
  if (mending.what === "components-merge") {
    const [a, b] = mending.rf.map(find);
    return a && b && a !== b ? joined(shown, reading.assignments, a, b) : null;
  }
  const one = find(mending.rf);
  return one && splitApart(shown, reading, one, mending.at);
}

/** A decision on changed evidence in terms of what was read: true Rf in figures and words, spots by their own numbers. */
function told({ value, findings }: StageResult<ElutionReading>, shown: ShownPlates): StageResult<ElutionReading> {
  const components = value.components.map((c) => ({ ...c, rf: shown.trueRf(c.rf) }));
  const words = (text: string) =>
    text.replace(/\b([A-Z]+) \(Rf \d\.\d\d\)/g, (all, id) => {
      const component = components.find((c) => c.id === id);
      return component ? `${id} (${rfInWords(component.rf)})` : all;
    });
  return {
    value: {
      ...value,
      components,
      assignments: value.assignments.flatMap(({ plate, lane, spot, component }) =>
        shown.spotsBehind(plate, lane, spot).map((own) => ({ plate, lane, spot: own, component })),
      ),
      fractions: value.fractions.map((f) => ({ ...f, reason: f.reason && words(f.reason) })),
      pools: value.pools.map((p) => ({ ...p, reason: words(p.reason) })),
      advice: value.advice.map((a) => ({ ...a, message: words(a.message) })),
    },
    findings: findings.map((f) => ({ ...f, message: words(f.message), remedy: words(f.remedy) })),
  };
}

function componentGone(mending: ComponentMending): Contradiction {
  const where = mending.what === "components-merge" ? mending.rf.map(rfInWords).join(" and ") : rfInWords(mending.rf);
  const deed = mending.what === "components-merge" ? "Components were merged" : "A component was split";
  return {
    code: "mended-component-gone",
    message: `${deed} by hand at ${where}, but this reading has nothing to ${mending.what === "components-merge" ? "merge" : "split"} there.`,
    remedy: "Look at the components; what was mended is kept.",
    ...{ pool: null, fraction: null, photo: null },
  };
}
