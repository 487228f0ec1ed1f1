import { normalDeviate, seededRandom } from "../../../src/math/random.ts";
import type { Lane, Light, PlatePhoto, PlateReading, Spot, SpotFlag, TubeState } from "../../../src/model/index.ts";
import { type SimColumn, type SimSubstance, simulateColumn } from "./column.ts";
import type { Level } from "./levels.ts";

export interface SimTube {
  readonly number: number;
  /** Mass of each substance that shows on the plate; 0 where it does not. */
  readonly visible: readonly number[];
  readonly state: TubeState;
  /** Index of the main substance, or null where nothing shows. */
  readonly main: number | null;
  /** False within 0.88 to 0.98 of main share. */
  readonly judged: boolean;
  readonly seen: boolean;
}

export interface SimRun {
  readonly plates: readonly PlateReading[];
  readonly fractionCount: number;
  readonly column: SimColumn;
  readonly tubes: readonly SimTube[];
  /** By `plate/lane/spot`: the substances in the spot; empty for a false one. */
  readonly origin: ReadonlyMap<string, readonly number[]>;
}

const SATURATION = 1.3;
/** What counts as visible, as a spot is read: weaker than it stands on the plate, and somewhat below what is found. */
const VISIBLE_PEAK = 0.008;
const VISIBLE_CNR = 3.3;

interface Draft {
  readonly rf: number;
  readonly width: number;
  /** Density at the top, per photo, before the plate saturates. */
  readonly peaks: readonly number[];
  readonly parts: readonly number[];
  readonly hue: readonly [number, number, number];
}

interface Sheet {
  readonly lights: readonly Light[];
  readonly shift: number;
  readonly stretch: number;
  readonly bow: number;
  readonly tilt: number;
  readonly width: number;
  readonly spotX: number;
}

/** A run of plates with known truth. The same seed and level give the same run. */
export function simulateRun(seed: number, level: Level): SimRun {
  const u = seededRandom(seed);
  const tubes = 10 + Math.floor(u() * u() * 51);
  const column = simulateColumn(u, tubes, level.closeChance);
  const strongest = Math.max(...column.substances.flatMap((s) => s.tubes), 1e-9);
  const strength = (0.3 * 8 ** u()) / strongest;
  const lanesPerPlate = 5 + Math.floor(u() * 8);
  const lightPlan: Light[] =
    u() < 0.55 ? [u() < 0.7 ? "uv254" : "white"] : u() < 0.7 ? ["uv254", "white"] : ["uv254", "uv365"];
  const spotted = spottingPlan(u, tubes);
  const crudeChance = [0, 0.3, 1][Math.floor(u() * 3)];
  const residue = u() < 0.3;
  const widthRf = 0.035 + 0.03 * u();
  const origin = new Map<string, readonly number[]>();
  const plates: PlateReading[] = [];
  const volumes = new Map<number, number>();
  for (let at = 0; at < spotted.length; ) {
    const crude = plates.length === 0 ? u() < 0.8 : u() < crudeChance;
    const carried = spotted.slice(at, at + lanesPerPlate - (crude ? 1 : 0));
    at += carried.length;
    const sheet: Sheet = {
      lights: u() < 0.9 ? lightPlan : lightPlan.slice(0, 1),
      shift: level.plateShift * normalDeviate(u),
      stretch: level.plateStretch * normalDeviate(u),
      bow: level.plateBow * normalDeviate(u),
      tilt: level.plateTilt * normalDeviate(u),
      width: widthRf,
      spotX: 0.4 / lanesPerPlate,
    };
    const id = `P${plates.length + 1}`;
    const named: (number | null)[] = crude ? [null, ...carried] : carried;
    const lanes = named.map((fraction, l) => {
      const x = (l + 0.7) / (named.length + 0.4);
      const forgotten = fraction !== null && u() < level.forgotten;
      const volume = Math.exp(level.spotting * normalDeviate(u));
      if (fraction !== null) volumes.set(fraction, volume);
      const drafts = forgotten ? [] : draftSpots(column.substances, fraction, strength * volume, sheet, x, level, u);
      const seen = readSpots(drafts, sheet, level, residue, u);
      const order = seen.map((_, i) => i).sort((a, b) => seen[b].spot.rf - seen[a].spot.rf);
      order.forEach((from, to) => {
        origin.set(`${id}/${l + 1}/${to}`, seen[from].parts);
      });
      return laneOf(
        l + 1,
        fraction,
        x,
        order.map((i) => ({ ...seen[i].spot, x })),
        sheet,
        level,
      );
    });
    plates.push(plateOf(id, sheet, lanes));
  }
  const seenTubes = new Set(spotted);
  const truth = Array.from({ length: tubes }, (_, t) =>
    tubeTruth(column, t, strength * (volumes.get(t + 1) ?? 1), lightPlan, level, seenTubes.has(t + 1)),
  );
  return { plates, fractionCount: tubes, column, tubes: truth, origin };
}

function spottingPlan(u: () => number, tubes: number): number[] {
  const all = Array.from({ length: tubes }, (_, i) => i + 1);
  const way = u();
  if (way < 0.65) return all;
  if (way < 0.8) return all.filter((n) => n % 2 === 1);
  return all.filter(() => u() > 0.15);
}

function tubeTruth(
  column: SimColumn,
  t: number,
  strength: number,
  lights: readonly Light[],
  level: Level,
  seen: boolean,
): SimTube {
  const visible = column.substances.map((s) => {
    const peak = Math.max(...lights.map((l) => s.tubes[t] * strength * s.response[l]));
    return peak >= VISIBLE_PEAK && peak / level.ground >= VISIBLE_CNR ? s.tubes[t] : 0;
  });
  const total = visible.reduce((a, b) => a + b, 0);
  const main = total > 0 ? visible.indexOf(Math.max(...visible)) : null;
  const share = main === null ? 0 : visible[main] / total;
  const state = main === null ? "empty" : share >= 0.95 ? "clean" : "mixed";
  return { number: t + 1, visible, state, main, judged: main === null || share < 0.88 || share > 0.98, seen };
}

function draftSpots(
  substances: readonly SimSubstance[],
  fraction: number | null,
  strength: number,
  sheet: Sheet,
  x: number,
  level: Level,
  u: () => number,
): Draft[] {
  return substances.map((s, k) => {
    const mass = fraction === null ? s.crude * 0.12 : s.tubes[fraction - 1];
    const place = sheet.shift + sheet.stretch * s.rf + sheet.bow * 4 * s.rf * (1 - s.rf) + sheet.tilt * (x - 0.5);
    const peaks = sheet.lights.map((l) => mass * strength * s.response[l]);
    const load = Math.max(...peaks);
    const width = sheet.width * (1 + 0.25 * Math.log1p(load)) * Math.exp(0.07 * normalDeviate(u));
    return { rf: s.rf + place + level.rfNoise * normalDeviate(u), width, peaks, parts: [k], hue: s.hue };
  });
}

/** Close spots run together, faint ones are lost, dust is taken for spots. */
function readSpots(
  drafts: readonly Draft[],
  sheet: Sheet,
  level: Level,
  residue: boolean,
  u: () => number,
): { spot: Spot; parts: readonly number[] }[] {
  const shown = drafts.filter((d) => Math.max(...d.peaks) > 2 * level.ground).sort((a, b) => b.rf - a.rf);
  const merged: (Draft & { touching: boolean })[] = [];
  for (const d of shown) {
    const before = merged[merged.length - 1];
    const gap = before ? (before.rf - d.rf) / (0.5 * (before.width + d.width)) : 9;
    if (gap < level.merge * (0.85 + 0.3 * u()))
      merged[merged.length - 1] = { ...join(before, d), touching: before.touching };
    else {
      if (gap < 1.3) merged[merged.length - 1] = { ...before, touching: true };
      merged.push({ ...d, touching: gap < 1.3 });
    }
  }
  const out: { spot: Spot; parts: readonly number[] }[] = [];
  for (const d of merged) {
    const cnr = Math.max(...d.peaks) / level.ground;
    const overlooked = level.missed * Math.exp(-Math.max(0, cnr - 6) / 20) + 0.1 * level.missed;
    const found = u() < (1 - overlooked) / (1 + Math.exp(-(cnr - 5) / 0.7));
    if (found)
      out.push({
        spot: spotOf(d, d.touching, sheet, level, 2.6 + 1.1 * normalDeviate(u) + Math.log(cnr / 6), u),
        parts: d.parts,
      });
  }
  const dust = u() < level.falseSpots ? (u() < 0.2 ? 2 : 1) : 0;
  for (let i = 0; i < dust; i++) {
    const peak = level.ground * (5 + 8 * u());
    const d: Draft = {
      rf: 0.04 + 0.9 * u(),
      width: sheet.width * (0.6 + 0.8 * u()),
      peaks: sheet.lights.map(() => peak * (0.2 + 0.8 * u())),
      parts: [],
      hue: [1, 1, 1],
    };
    out.push({ spot: spotOf(d, false, sheet, level, -0.3 + 1.2 * normalDeviate(u), u), parts: [] });
  }
  if (residue) {
    const d: Draft = {
      rf: 0.004 + 0.006 * u(),
      width: 0.03,
      peaks: sheet.lights.map(() => level.ground * (6 + 10 * u())),
      parts: [],
      hue: [1, 1, 1],
    };
    out.push({ spot: spotOf(d, false, sheet, level, 1.5 + normalDeviate(u), u), parts: [] });
  }
  return out;
}

function join(a: Draft, b: Draft): Draft {
  const wa = Math.max(...a.peaks);
  const wb = Math.max(...b.peaks);
  const share = wa / (wa + wb);
  const rf = share * a.rf + (1 - share) * b.rf;
  const spread = share * (1 - share) * (a.rf - b.rf) ** 2 * 5.55;
  const width = Math.sqrt(share * a.width ** 2 + (1 - share) * b.width ** 2 + spread);
  // What would pass a reader of shoulders as one part: a share under 8 % does not make the spot a joint one.
  const parts = share > 0.92 ? a.parts : share < 0.08 ? b.parts : [...a.parts, ...b.parts];
  return { rf, width, peaks: a.peaks.map((p, i) => p + b.peaks[i]), parts, hue: share > 0.5 ? a.hue : b.hue };
}

function spotOf(d: Draft, touching: boolean, sheet: Sheet, level: Level, logit: number, u: () => number): Spot {
  const area = 0.0113 * sheet.spotX * 10 * d.width * 1e4 * 1.13;
  const responses = d.peaks.map((p, photo) => {
    const noise = level.ground * normalDeviate(u);
    const peak = SATURATION * (1 - Math.exp(-Math.max(p, 0) / SATURATION)) + 0.5 * noise;
    const amount =
      area * (SATURATION * (1 - Math.exp(-p / SATURATION)) * Math.exp(0.05 * normalDeviate(u)) + 0.4 * noise);
    // The strongest colour stands as it is on the plate, where peaks are weakened by the mix of colours and by blur.
    const strongest = peak / (0.6 * Math.max(...d.hue));
    const colour = d.hue.map((h) => strongest * h + 0.5 * level.ground * normalDeviate(u)) as unknown as readonly [
      number,
      number,
      number,
    ];
    const cnr = Math.max(peak, 0) / level.ground;
    return {
      light: sheet.lights[photo],
      photo,
      amount,
      amountSd: area * (0.4 * level.ground + 0.05 * peak),
      contrastToNoise: cnr,
      peak,
      colour,
    };
  });
  const best = responses.reduce((a, b) => (b.contrastToNoise > a.contrastToNoise ? b : a));
  const flags: SpotFlag[] = [];
  if (d.rf < 0.02) flags.push("at-origin");
  if (d.rf > 0.97) flags.push("at-front");
  if (Math.max(...d.peaks) > 1.2) flags.push("overloaded");
  if (touching) flags.push("touching");
  const blur = (0.15 * d.width) / best.contrastToNoise + (touching ? 0.003 : 0);
  return {
    x: 0.5,
    y: 0.85 - 0.7 * d.rf,
    rf: Math.min(Math.max(d.rf + blur * normalDeviate(u), 0), 1),
    rfSd: level.rfNoise + blur,
    widthRf: d.width * Math.exp(0.06 * normalDeviate(u)),
    widthX: sheet.spotX,
    tailing: 1,
    amount: Math.max(best.amount, 0),
    amountSd: best.amountSd,
    confidence: 1 / (1 + Math.exp(-logit)),
    flags,
    responses,
    lights: responses.filter((r) => r.contrastToNoise > 4).map((r) => r.light),
  };
}

function laneOf(index: number, fraction: number | null, x: number, spots: Spot[], sheet: Sheet, level: Level): Lane {
  const limit = 0.0113 * sheet.spotX * 10 * sheet.width * 1e4 * 1.13 * 5 * level.ground;
  return {
    index,
    label: fraction === null ? "crude" : String(fraction),
    fraction,
    x,
    drift: 0,
    spots,
    detectionLimit: sheet.lights.map(() => limit),
  };
}

function plateOf(id: string, sheet: Sheet, lanes: Lane[]): PlateReading {
  const quality = { blurPx: 2, clipped: [0, 0, 0] as const, evenness: 0.9, platePx: 1500, cutOff: false, advice: null };
  const corners = [
    [0, 0],
    [1500, 0],
    [1500, 2000],
    [0, 2000],
  ] as const;
  const photos: PlatePhoto[] = sheet.lights.map((light, i) => ({
    file: `${id}-${i}.jpg`,
    light,
    stain: light === "white" ? "kmno4" : null,
    corners,
    quality,
  }));
  const line = { tilt: 0, bow: 0, source: "found" as const, sd: 0.003 };
  return { id, photos, aspect: 1.33, linesSure: 1, origin: { ...line, y: 0.85 }, front: { ...line, y: 0.15 }, lanes };
}
