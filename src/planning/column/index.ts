import type { ColumnPlan, ColumnRequest, PlannedBand, PlannedEluent, PlannedPair } from "../../model/index.ts";
import { PLAN_SCHEMA } from "../../model/index.ts";
import { bandQuantile, elutionCdf } from "./bandShape.ts";
import { planBands, planPairs } from "./bands.ts";
import { bedOf, flowMlPerMin, particlesFor } from "./bed.ts";
import { checkRequest } from "./checkRequest.ts";
import { elute } from "./elute.ts";
import { expectedPlates } from "./plates.ts";
import { FLASH_TABLE, flashValue, loadLimitMg, neededDiameterMm } from "./stillTable.ts";
import { fillTubes } from "./tubes.ts";
import { planFindings } from "./warn.ts";

/** Difference of Rf that sizing does not go below: a closer pair is no question of diameter. */
const LEAST_DELTA = 0.05;
/** Bed volumes for packing and wetting. Common practice, no source. */
const PACKING_BEDS = 1.5;
/** Fewest tubes that a band should spread over, so that its clean part can be cut out. Common practice, no source. */
const TUBES_PER_BAND = 2.5;

/** Up to the next whole second figure: 137 becomes 140. */
function roundUp(ml: number): number {
  const unit = 10 ** Math.max(0, Math.floor(Math.log10(ml)) - 1);
  return Math.ceil(ml / unit - 1e-9) * unit;
}

/** Fraction sizes that tubes come in, mL. */
const FRACTIONS = [1, 2, 3, 5, 8, 10, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200, 250, 500];

function chooseFraction(diameterMm: number, bands: readonly PlannedBand[]): number {
  const table = flashValue(diameterMm, "fractionMl");
  const narrowest = Math.min(...bands.filter((band) => band.collected).map((band) => 4 * band.sdMl));
  const most = Math.min(table, narrowest / TUBES_PER_BAND);
  return [...FRACTIONS].reverse().find((size) => size <= most + 1e-9) ?? 1;
}

/** The difference of Rf that decides the load: of the wanted component to its neighbours, else the smallest. */
function decisive(pairs: readonly PlannedPair[], want: string | null): number | null {
  const around = want === null ? pairs : pairs.filter((pair) => pair.fast === want || pair.slow === want);
  return around.length === 0 ? null : Math.min(...around.map((pair) => pair.deltaRf));
}

function chooseDiameter(loadMg: number, deltaRf: number): number {
  const needed = neededDiameterMm(loadMg, deltaRf);
  const row = FLASH_TABLE.find((r) => r.diameterMm >= needed - 1e-6);
  return row ? row.diameterMm : Math.ceil(needed / 10) * 10;
}

function eluentsOf(request: ColumnRequest, totalMl: number, bedMl: number): PlannedEluent[] {
  return request.steps
    .filter((step) => step.fromMl < totalMl)
    .map((step, i, steps) => {
      const run = (steps[i + 1]?.fromMl ?? totalMl) - step.fromMl;
      return {
        eluent: step.eluent,
        fromMl: step.fromMl,
        prepareMl: roundUp(run + (i === 0 ? PACKING_BEDS * bedMl : 0)),
      };
    });
}

/**
 * Plans a column: size from the load and the closest pair (Still, Kahn and Mitra's table), hold-up volume measured or
 * from the bed, where each component comes off (V_R = V_M/R, steps allowed) and in which tubes.
 * @param request Rf in 0..1, mg, mL, mm, cm
 * @throws `rf-out-of-range`, `mass-not-positive` and the other codes of `checkRequest`
 */
export function planColumn(request: ColumnRequest): ColumnPlan {
  checkRequest(request);
  const layout = (diameterMm: number, fractionMl: number) => {
    const bed = bedOf(diameterMm, request.bedCm, request.sorbent);
    const holdUpMl = request.holdUpMl ?? bed.holdUpMl;
    const plates = expectedPlates(request.loadMg, diameterMm);
    const bands = planBands(request, holdUpMl, plates, fractionMl);
    return { bed, holdUpMl, plates, bands, pairs: planPairs(request, bands, holdUpMl) };
  };
  // Which pair is decisive depends on the steps alone, as long as they are set in mL of a column not yet chosen.
  const guess = layout(request.diameterMm ?? 20, 10);
  const decisiveDeltaRf = decisive(guess.pairs, request.want);
  const sizing = Math.max(LEAST_DELTA, decisiveDeltaRf ?? 0.2);
  const diameterMm = request.diameterMm ?? chooseDiameter(request.loadMg, sizing);
  const fractionMl = request.fractionMl ?? chooseFraction(diameterMm, layout(diameterMm, 10).bands);
  const { bed, holdUpMl, plates, bands, pairs } = layout(diameterMm, fractionMl);
  const waited = bands.filter((band) => band.collected);
  const lastMl = Math.max(holdUpMl, ...waited.map((band) => bandQuantile(band.retentionMl, band.sdMl, 2.58)));
  const count = Math.max(1, Math.ceil((lastMl - request.forerunMl) / fractionMl));
  const totalMl = request.forerunMl + count * fractionMl;
  const flow = flowMlPerMin(diameterMm, request.drive);
  const loadLimit = loadLimitMg(diameterMm, sizing);
  const plan: ColumnPlan = {
    schema: PLAN_SCHEMA,
    request,
    diameterMm,
    neededDiameterMm: neededDiameterMm(request.loadMg, sizing),
    bedMl: bed.bedMl,
    sorbentG: bed.sorbentG,
    particles: particlesFor(request.sorbent, request.drive),
    holdUpMl,
    holdUpSource: request.holdUpMl === null ? "bed" : "measured",
    plates,
    decisiveDeltaRf,
    loadLimitMg: loadLimit,
    loadUse: request.loadMg / loadLimit,
    fractionMl,
    eluents: eluentsOf(request, totalMl, bed.bedMl),
    tableEluentMl: flashValue(diameterMm, "eluentMl"),
    totalMl,
    flowMlPerMin: flow,
    minutes: totalMl / flow,
    bands,
    pairs,
    tubes: fillTubes(
      bands.map(({ component, share }) => ({
        ...{ component, share },
        off: elutionCdf(elute(component, request.steps, holdUpMl, plates)),
      })),
      count,
      fractionMl,
      request.forerunMl,
    ),
    findings: [],
  };
  return { ...plan, findings: planFindings(plan) };
}

export { bandCdf } from "./bandShape.ts";
export { checkRack } from "./checkRequest.ts";
export { tubeState } from "./tubes.ts";
