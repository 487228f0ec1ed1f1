import type { TubeState } from "./elution.ts";
import type { Finding } from "./finding.ts";

export const PLAN_SCHEMA = "platepool.plan/1";

export type Sorbent = "silica" | "alumina";
/** How the eluent is driven: gas pressure (flash) or its own weight. */
export type Drive = "pressure" | "gravity";

/** An eluent on the column, from a poured volume on. */
export interface ColumnStep {
  readonly eluent: string | null;
  /** Eluent poured on the bed before this one, mL; 0 for the first. */
  readonly fromMl: number;
  /** Rf on the plate in this eluent, by component. */
  readonly rf: Readonly<Record<string, number>>;
}

export interface RackLayout {
  readonly rows: number;
  readonly columns: number;
  /** How the tubes are numbered; `serpentine` turns back at the end of each row. */
  readonly fill: "rows" | "serpentine" | "columns" | "columns-serpentine";
  /** Corner that holds tube 1. */
  readonly start: "top-left" | "top-right" | "bottom-left" | "bottom-right";
}

/** What the chemist asks of a column; null leaves the choice to the plan. */
export interface ColumnRequest {
  readonly loadMg: number;
  readonly steps: readonly ColumnStep[];
  readonly names: Readonly<Record<string, string>>;
  /** Relative amounts by component; missing ones count as equal. */
  readonly amounts: Readonly<Record<string, number>>;
  readonly want: string | null;
  readonly sorbent: Sorbent;
  readonly drive: Drive;
  readonly bedCm: number;
  readonly diameterMm: number | null;
  readonly fractionMl: number | null;
  readonly holdUpMl: number | null;
  /** Eluent let through before tube 1, mL. */
  readonly forerunMl: number;
  readonly rack: RackLayout | null;
}

/** Where one component should come off. Volumes in mL from the first drop of eluent. */
export interface PlannedBand {
  readonly component: string;
  readonly name: string | null;
  readonly retentionMl: number;
  readonly sdMl: number;
  /** Volumes that hold the middle 95 % of it. */
  readonly fromMl: number;
  readonly toMl: number;
  readonly columnVolumes: number;
  readonly peakTube: number;
  readonly firstTube: number;
  readonly lastTube: number;
  /** Index of the step it leaves the column in. */
  readonly step: number;
  /** Relative amount, sums to 1 over the bands. */
  readonly share: number;
  /** False where it would take too long and is left on the column. */
  readonly collected: boolean;
}

export interface PlannedPair {
  readonly fast: string;
  readonly slow: string;
  /** In the eluent that the faster one leaves in. */
  readonly deltaRf: number;
  readonly gapMl: number;
  readonly columnVolumes: number;
  readonly resolution: number;
}

export interface PlannedTube {
  readonly number: number;
  readonly startMl: number;
  readonly endMl: number;
  /** Share of each component in what the tube should hold. */
  readonly composition: Readonly<Record<string, number>>;
  /** Share of the whole load in this tube, 0..1. */
  readonly amount: number;
  readonly state: TubeState;
}

export interface PlannedEluent {
  readonly eluent: string | null;
  readonly fromMl: number;
  /** To have at hand, packing and wetting included in the first, mL. */
  readonly prepareMl: number;
}

/** A planned column. */
export interface ColumnPlan {
  readonly schema: typeof PLAN_SCHEMA;
  readonly request: ColumnRequest;
  readonly diameterMm: number;
  /** Smallest diameter that carries the load. */
  readonly neededDiameterMm: number;
  readonly bedMl: number;
  readonly sorbentG: number;
  readonly particles: string;
  readonly holdUpMl: number;
  readonly holdUpSource: "measured" | "bed";
  /** Theoretical plates that the widths are drawn with. */
  readonly plates: number;
  readonly decisiveDeltaRf: number | null;
  readonly loadLimitMg: number;
  /** Load over limit. */
  readonly loadUse: number;
  readonly fractionMl: number;
  readonly eluents: readonly PlannedEluent[];
  /** Eluent for packing and one run by the table, mL. */
  readonly tableEluentMl: number;
  /** Through the column until the last tube is full, mL. */
  readonly totalMl: number;
  readonly flowMlPerMin: number;
  readonly minutes: number;
  readonly bands: readonly PlannedBand[];
  readonly pairs: readonly PlannedPair[];
  readonly tubes: readonly PlannedTube[];
  readonly findings: readonly Finding[];
}

/** One component: planned, found, and how far apart. Volumes in mL. */
export interface BandComparison {
  readonly planned: string | null;
  readonly found: string | null;
  readonly plannedMl: number | null;
  readonly foundMl: number | null;
  readonly plannedTubes: readonly [number, number] | null;
  readonly foundTubes: readonly [number, number] | null;
  /** Found over planned retention beyond the hold-up volume (ratio of k). */
  readonly kRatio: number | null;
  /** Found over planned standard deviation. */
  readonly widthRatio: number | null;
  readonly humps: number;
  /** Back over front half width of the found band at a tenth of its height. */
  readonly tailing: number | null;
}

/** What plan and photos say of one tube, and which of them counts. */
export interface TubeEvidence {
  readonly number: number;
  readonly photos: TubeState | null;
  readonly plan: TubeState;
  readonly verdict: "agree" | "photos-win" | "plan-helps";
}

/** A plan against what the plates of the fractions show. */
export interface PlanCheck {
  readonly bands: readonly BandComparison[];
  readonly tubes: readonly TubeEvidence[];
  /** Pairs of components that came in the planned order, and all pairs. */
  readonly pairsInOrder: number;
  readonly pairs: number;
  /** Median ratio of k, found over planned; null where nothing could be matched. */
  readonly kRatio: number | null;
  readonly findings: readonly Finding[];
  readonly summary: string;
}
