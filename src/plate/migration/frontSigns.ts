import { cut } from "./cut.ts";
import { type Height, strongest } from "./heights.ts";
import type { SpotProfile } from "./spotProfile.ts";

/** What tells a front from what else lies at such a height; each mostly from 0 to 1. */
export interface FrontSigns {
  /** Farther down and farther up than people stop the eluent, and near the rim. */
  readonly lower: number;
  readonly upper: number;
  readonly rim: number;
  /** Near the rim, and seen in few ways. */
  readonly rimAlone: number;
  /** Dark lines and bands of three widths, the plainest of them, and of bright ones. */
  readonly darkThin: number;
  readonly darkNarrow: number;
  readonly darkBroad: number;
  readonly dark: number;
  readonly bright: number;
  /** A step to a darker layer below, and to a brighter one. */
  readonly step: number;
  readonly rise: number;
  /** Marks at both edges; a mark at one; how far that is plainer than need be; a longer stroke that begins at one. */
  readonly edges: number;
  readonly edge: number;
  readonly edgePlain: number;
  readonly short: number;
  /** A row of a few crosses. */
  readonly crosses: number;
  /** In how many ways it shows, and how often, all photos together. */
  readonly kinds: number;
  readonly looks: number;
  /** Spots above and upon it. */
  readonly spotsAbove: number;
  readonly spotsOn: number;
  /** How plain the plainest other height is. */
  readonly other: number;
}

/** Spots that reach so far above or below a height, as a share of the plate's, may lie on it. */
const ON = 0.015;
/** A small spot covers one part in so many of a plate, a large one in so many. */
const SMALL = 3000;
const LARGE = 300;
/** From so many widths of its side's ridges on, a mark at one edge can hardly be chance. */
const PLAIN = 14;
/** Heights nearer than this, as a share of the plate's, are not two. */
const APART = 0.012;

export function frontSigns(
  heights: readonly Height[],
  profiles: readonly SpotProfile[],
  { width, height }: { readonly width: number; readonly height: number },
): FrontSigns[] {
  const own = heights.map((h) => {
    const [place, line] = [placeSigns(h, width, height), lineSigns(h)];
    return { ...place, rimAlone: place.rim * (1 - line.kinds), ...line, ...spotSigns(h, profiles) };
  });
  const plain = own.map((s) => Math.max(s.dark, 0.8 * s.edges, 0.6 * s.edge, s.step, (1 - s.rim) * s.rise));
  return own.map((signs, i) => {
    const off = (k: number) => Math.abs(heights[k].curve.y - heights[i].curve.y) / height;
    return { ...signs, other: Math.max(0, ...plain.map((v, k) => (off(k) > APART ? v : 0))) };
  });
}

function placeSigns({ curve: { y, bow } }: Height, width: number, height: number) {
  return {
    lower: cut((y / height - 0.11) / 0.07, 4) ** 2,
    upper: cut((0.08 - y / height) / 0.04, 2) ** 2,
    rim: cut((0.05 - (y + bow / 3) / Math.max(width, height)) / 0.03, 1),
  };
}

function lineSigns(h: Height) {
  const plain = (kind: Parameters<typeof strongest>[1]) => cut(strongest(h, kind), 3) / 3;
  const [darkThin, darkNarrow, darkBroad] = [plain("darkThin"), plain("darkNarrow"), plain("darkBroad")];
  return {
    darkThin,
    darkNarrow,
    darkBroad,
    dark: Math.max(darkThin, darkNarrow, darkBroad),
    bright: Math.max(plain("brightThin"), plain("brightNarrow"), plain("brightBroad")),
    step: plain("step"),
    rise: plain("rise"),
    edges: cut((strongest(h, "edges") - 4) / 10, 1),
    edge: cut((strongest(h, "edge") - 4) / 10, 1),
    edgePlain: cut(Math.log10(Math.max(1, strongest(h, "edge") / PLAIN)), 1.3),
    crosses: cut(strongest(h, "crosses") / 3, 1),
    short: cut(strongest(h, "short") - 2, 1),
    kinds: cut((new Set(h.seen.map((e) => e.kind)).size - 1) / 3, 1),
    looks: cut((h.seen.length - 1) / 4, 1),
  };
}

function spotSigns({ curve: { y } }: Height, profiles: readonly SpotProfile[]) {
  const { height } = profiles[0];
  const mean = (value: (p: SpotProfile) => number) => profiles.reduce((sum, p) => sum + value(p), 0) / profiles.length;
  const upper = Math.max(0, Math.round(y - ON * height));
  const lower = Math.min(height, Math.round(y + ON * height));
  return {
    spotsAbove: Math.log1p(SMALL * mean((p) => p.above[upper])),
    spotsOn: Math.log1p(LARGE * mean((p) => p.above[lower] - p.above[upper])),
  };
}
