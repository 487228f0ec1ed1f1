import {
  type ElutionReading,
  type Finding,
  RESULT_SCHEMA,
  type ReadSettings,
  type Result,
  type ResultFraction,
  type ResultPhoto,
  type ResultPool,
  type ResultWarning,
} from "../model/index.ts";
import { onTrack } from "../plate/together/index.ts";
import { resultPlate } from "./assemblePlate.ts";
import type { PhotoReading } from "./group.ts";
import type { NamedPlate } from "./nameLanes.ts";
import { ranAlike } from "./ranAlike.ts";
import { fine, fineRecord, pixel, significant } from "./round.ts";
import { tracked } from "./standOnTracks.ts";

export interface ResultParts {
  readonly run: string | null;
  readonly settings: ReadSettings;
  readonly photos: readonly PhotoReading[];
  readonly plates: readonly NamedPlate[];
  readonly elution: ElutionReading;
  readonly findings: readonly Finding[];
}

/** Puts the parts of a reading into the shape of `platepool.result/1`, numbers rounded and keys in a fixed order. */
export function assemble({ run, settings, photos, plates, elution, findings }: ResultParts): Result {
  const tracks = new Map(
    ranAlike(plates).flatMap((some) => {
      const followed = onTrack(some.map(({ reading }) => tracked(reading)));
      return some.map((plate, p) => [plate, followed[p]] as const);
    }),
  );
  return {
    schema: RESULT_SCHEMA,
    run,
    settings: { policy: settings.policy, want: settings.want, ...(settings.up && { up: settings.up }) },
    photos: photos.map((photo) => resultPhoto(photo, plates)),
    plates: plates.map((plate) => resultPlate(plate.reading, elution, tracks.get(plate)!)),
    components: elution.components.map(({ id, rf, rfSd, first, last, inReference }) => ({
      id,
      rf: fine(rf),
      rf_sd: fine(rfSd),
      first,
      last,
      in_reference: inReference,
    })),
    fractions: elution.fractions.map(resultFraction),
    pools: elution.pools.map(resultPool),
    profiles: elution.profiles.map(({ component, points, fitted }) => ({
      component,
      points: points.map((p) => ({
        fraction: p.fraction,
        amount: significant(p.amount),
        sd: significant(p.sd),
        measured: p.measured === null ? null : significant(p.measured),
      })),
      fitted,
    })),
    policies: elution.policies.map(({ policy, pools, purity, recovery }) => ({
      policy,
      pools: pools.map(({ fractions, kind }) => ({ fractions, kind })),
      purity: interval(purity),
      recovery: interval(recovery),
    })),
    advice: elution.advice.map(({ code, message, fractions, gain }) => ({
      code,
      message,
      fractions,
      gain: fine(gain),
    })),
    warnings: findings.map((finding) => resultWarning(finding, plates)),
  };
}

function resultPhoto(photo: PhotoReading, plates: readonly NamedPlate[]): ResultPhoto {
  const { file, reason, light, width, height, quality } = photo;
  const shown = plates.flatMap(({ reading }) => {
    const view = reading.photos.find((p) => p.file === file);
    return view ? [{ id: reading.id, corners: view.corners.map(([x, y]) => [pixel(x), pixel(y)] as const) }] : [];
  });
  return {
    file,
    status: reason === null ? "read" : "rejected",
    reason,
    light,
    plate: shown[0]?.id ?? null,
    plates: shown.map((s) => s.id),
    width,
    height,
    quality: quality && {
      blur_px: pixel(quality.blurPx),
      clipped: [fine(quality.clipped[0]), fine(quality.clipped[1]), fine(quality.clipped[2])],
      evenness: fine(quality.evenness),
      plate_px: pixel(quality.platePx),
      cut_off: quality.cutOff,
      advice: quality.advice,
    },
    corners: shown.map((s) => s.corners),
  };
}

function resultFraction(f: ElutionReading["fractions"][number]): ResultFraction {
  return {
    number: f.number,
    seen: f.seen,
    composition: fineRecord(f.composition),
    state: f.state,
    odds: { clean: fine(f.odds.clean), mixed: fine(f.odds.mixed), empty: fine(f.odds.empty) },
    pool: f.pool,
    confidence: fine(f.confidence),
    reason: f.reason,
  };
}

function resultPool(p: ElutionReading["pools"][number]): ResultPool {
  return {
    id: p.id,
    fractions: p.fractions,
    kind: p.kind,
    components: p.components,
    purity: interval(p.purity),
    confidence: fine(p.confidence),
    volume_ml: p.volumeMl === null ? null : significant(p.volumeMl),
    reason: p.reason,
  };
}

function interval({ low, mid, high }: ElutionReading["pools"][number]["purity"]) {
  return { low: fine(low), mid: fine(mid), high: fine(high) };
}

/** Where a finding names a lane, the warning names the tube on it; where it names a plate, the plate's first photo. */
function resultWarning({ code, message, remedy, where }: Finding, plates: readonly NamedPlate[]): ResultWarning {
  const plate = plates.find((p) => p.reading.id === where.plate)?.reading;
  const lane = plate?.lanes.find((l) => l.index === where.lane);
  return {
    code,
    message: remedy === "" ? message : `${message} ${remedy}`,
    photo: where.photo ?? plate?.photos[0]?.file ?? null,
    fraction: where.fraction ?? lane?.fraction ?? null,
  };
}
