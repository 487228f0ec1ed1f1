/** How hard a rendered run is to read. */
export type Level = "easy" | "normal" | "hard" | "nasty";

export const LEVELS: readonly Level[] = ["easy", "normal", "hard", "nasty"];

type Span = readonly [low: number, high: number];
type Weights<K extends string> = Readonly<Partial<Record<K, number>>>;

export type OriginMark = "line" | "ticks" | "crosses" | "edges" | "none";
export type FrontMark = "line" | "band" | "faint" | "off";
export type BenchKind = "frame" | "black" | "violet" | "steel" | "wood" | "paper" | "grey" | "tissue";

/** Ranges from which a run of one level is drawn. Lengths in mm, angles in degrees, unless said otherwise. */
export interface LevelSettings {
  readonly tubes: Span;
  readonly lanes: Span;
  readonly components: Span;
  /** Smallest Rf distance of two components. */
  readonly gap: number;
  /** Share of plates photographed under two lights. */
  readonly twoLights: number;
  /** Probability that a photo shows two or three plates. */
  readonly several: number;
  readonly originMark: Weights<OriginMark>;
  readonly frontMark: Weights<FrontMark>;
  /** Probability of pencilled lane numbers, and of other notes. */
  readonly laneLabels: number;
  readonly notes: number;
  /** Probability that somebody ringed spots of a plate in pencil. */
  readonly rings: number;
  /** Standard deviations of: lane spacing (share of the pitch), drift (dx/dy), Rf per spot, Rf stretch of a plate. */
  readonly laneJitter: number;
  readonly drift: number;
  readonly rfJitter: number;
  readonly rfStretch: number;
  /** Tilt and bow of the front over the plate's height. */
  readonly frontTilt: number;
  readonly frontBow: number;
  readonly edgeLead: number;
  /** Share of spots that streak or bend. */
  readonly streaks: number;
  readonly crescents: number;
  /** Relative sd of the layer's grain and of its blotches; staining adds its own. */
  readonly grain: Span;
  readonly blotch: Span;
  readonly stainBlotch: Span;
  /** Relative sd of a spot's density from place to place. */
  readonly patchy: Span;
  /** Expected numbers per plate. */
  readonly scratches: number;
  readonly smudges: number;
  readonly dust: number;
  readonly chips: number;
  readonly bench: Weights<BenchKind>;
  /** Probability of each thing in the picture. */
  readonly fingers: number;
  readonly ruler: number;
  readonly pen: number;
  /** Camera away from the perpendicular; rotation in the picture; probability of a turn by 90 or 180 degrees. */
  readonly tilt: Span;
  readonly roll: number;
  readonly turned: number;
  /** Share of the frame that the plate spans, and the frame's long side in pixels. */
  readonly fill: Span;
  readonly longSide: Span;
  readonly distortion: number;
  /** Lamp fall-off across the frame and vignetting, 0..1; expected glare streaks. */
  readonly lampFall: Span;
  readonly vignette: Span;
  readonly glare: number;
  /** Full-well electrons (shot noise) and read noise as a share of full scale. */
  readonly fullWell: Span;
  readonly readNoise: Span;
  /** Gauss sigma in pixels. */
  readonly blur: Span;
  /** Green of the F254 layer at exposure, 1 = just clipped; layer of a white plate likewise. */
  readonly green: Span;
  readonly white: Span;
  /** Strength of the camera's tone curve 0..1 and of its sharpening. */
  readonly tone: Span;
  readonly sharpen: Span;
  readonly jpeg: Span;
  /** Probability that the file is stored turned, with an EXIF orientation. */
  readonly exif: number;
}

export const LEVEL_SETTINGS: Readonly<Record<Level, LevelSettings>> = {
  easy: {
    tubes: [10, 40],
    lanes: [5, 14],
    components: [2, 4],
    gap: 0.09,
    twoLights: 0,
    several: 0,
    originMark: { line: 1 },
    frontMark: { line: 1 },
    laneLabels: 0.5,
    notes: 0.2,
    rings: 0,
    laneJitter: 0.02,
    drift: 0.004,
    rfJitter: 0.003,
    rfStretch: 0.006,
    frontTilt: 0.004,
    frontBow: 0.002,
    edgeLead: 0.005,
    streaks: 0.02,
    crescents: 0.02,
    grain: [0.008, 0.02],
    blotch: [0.005, 0.015],
    stainBlotch: [0.01, 0.04],
    patchy: [0.01, 0.03],
    scratches: 0.4,
    smudges: 0.1,
    dust: 4,
    chips: 0.05,
    bench: { frame: 3, black: 2, paper: 1, grey: 2 },
    fingers: 0,
    ruler: 0,
    pen: 0,
    tilt: [0, 1.5],
    roll: 0.8,
    turned: 0,
    fill: [0.86, 0.97],
    longSide: [1400, 1900],
    distortion: 0.002,
    lampFall: [0.02, 0.12],
    vignette: [0, 0.08],
    glare: 0,
    fullWell: [15000, 40000],
    readNoise: [0.0005, 0.0012],
    blur: [0.4, 0.8],
    green: [0.55, 1.05],
    white: [0.6, 0.9],
    tone: [0, 0.1],
    sharpen: [0, 0.15],
    jpeg: [90, 97],
    exif: 0.05,
  },
  normal: {
    tubes: [10, 60],
    lanes: [3, 18],
    components: [2, 5],
    gap: 0.07,
    twoLights: 0.15,
    several: 0,
    originMark: { line: 5, ticks: 3, crosses: 1.5, edges: 0.5 },
    frontMark: { line: 5, band: 5 },
    laneLabels: 0.55,
    notes: 0.35,
    rings: 0.05,
    laneJitter: 0.05,
    drift: 0.012,
    rfJitter: 0.005,
    rfStretch: 0.012,
    frontTilt: 0.012,
    frontBow: 0.008,
    edgeLead: 0.012,
    streaks: 0.04,
    crescents: 0.05,
    grain: [0.012, 0.03],
    blotch: [0.01, 0.03],
    stainBlotch: [0.03, 0.08],
    patchy: [0.02, 0.06],
    scratches: 1.5,
    smudges: 0.5,
    dust: 12,
    chips: 0.25,
    bench: { black: 3, violet: 3, steel: 1, wood: 2, paper: 2, grey: 2, tissue: 1 },
    fingers: 0.08,
    ruler: 0.08,
    pen: 0.06,
    tilt: [1, 9],
    roll: 4,
    turned: 0,
    fill: [0.6, 0.92],
    longSide: [1500, 2000],
    distortion: 0.012,
    lampFall: [0.08, 0.35],
    vignette: [0.03, 0.2],
    glare: 0.1,
    fullWell: [5000, 15000],
    readNoise: [0.001, 0.003],
    blur: [0.6, 1.3],
    green: [0.9, 1.9],
    white: [0.55, 0.95],
    tone: [0, 0.3],
    sharpen: [0, 0.5],
    jpeg: [80, 94],
    exif: 0.3,
  },
  hard: {
    tubes: [10, 60],
    lanes: [3, 20],
    components: [2, 6],
    gap: 0.05,
    twoLights: 0.5,
    several: 0.15,
    originMark: { line: 3, ticks: 4, crosses: 2, edges: 1.5, none: 0.7 },
    frontMark: { line: 3, band: 6, faint: 1.5, off: 0.4 },
    laneLabels: 0.5,
    notes: 0.5,
    rings: 0.25,
    laneJitter: 0.08,
    drift: 0.025,
    rfJitter: 0.007,
    rfStretch: 0.02,
    frontTilt: 0.022,
    frontBow: 0.015,
    edgeLead: 0.025,
    streaks: 0.08,
    crescents: 0.1,
    grain: [0.02, 0.045],
    blotch: [0.02, 0.05],
    stainBlotch: [0.06, 0.14],
    patchy: [0.04, 0.09],
    scratches: 4,
    smudges: 1.5,
    dust: 30,
    chips: 0.7,
    bench: { black: 3, violet: 4, steel: 2, wood: 3, paper: 3, grey: 2, tissue: 2 },
    fingers: 0.25,
    ruler: 0.2,
    pen: 0.15,
    tilt: [3, 17],
    roll: 9,
    turned: 0.1,
    fill: [0.42, 0.85],
    longSide: [1300, 1900],
    distortion: 0.025,
    lampFall: [0.2, 0.55],
    vignette: [0.1, 0.35],
    glare: 0.5,
    fullWell: [2000, 6000],
    readNoise: [0.002, 0.006],
    blur: [0.9, 2],
    green: [1.2, 3.2],
    white: [0.4, 1.05],
    tone: [0.1, 0.5],
    sharpen: [0, 0.9],
    jpeg: [65, 88],
    exif: 0.4,
  },
  nasty: {
    tubes: [10, 60],
    lanes: [3, 20],
    components: [2, 6],
    gap: 0.04,
    twoLights: 0.5,
    several: 0.25,
    originMark: { line: 2, ticks: 4, crosses: 2, edges: 2, none: 1.2 },
    frontMark: { line: 2, band: 5, faint: 3, off: 0.7 },
    laneLabels: 0.5,
    notes: 0.6,
    rings: 0.35,
    laneJitter: 0.12,
    drift: 0.045,
    rfJitter: 0.01,
    rfStretch: 0.03,
    frontTilt: 0.035,
    frontBow: 0.025,
    edgeLead: 0.04,
    streaks: 0.13,
    crescents: 0.15,
    grain: [0.03, 0.07],
    blotch: [0.03, 0.08],
    stainBlotch: [0.1, 0.22],
    patchy: [0.05, 0.14],
    scratches: 9,
    smudges: 3,
    dust: 60,
    chips: 1.4,
    bench: { black: 3, violet: 4, steel: 2, wood: 3, paper: 3, grey: 2, tissue: 3 },
    fingers: 0.4,
    ruler: 0.3,
    pen: 0.25,
    tilt: [6, 24],
    roll: 15,
    turned: 0.18,
    fill: [0.32, 0.8],
    longSide: [1100, 1700],
    distortion: 0.04,
    lampFall: [0.35, 0.75],
    vignette: [0.2, 0.5],
    glare: 1.2,
    fullWell: [700, 2500],
    readNoise: [0.004, 0.012],
    blur: [1.3, 2.8],
    green: [0.6, 3.6],
    white: [0.25, 1.2],
    tone: [0.2, 0.7],
    sharpen: [0, 1.3],
    jpeg: [45, 78],
    exif: 0.4,
  },
};
