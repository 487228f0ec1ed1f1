import { blockMeans } from "../../raster/blocks.ts";
import { boxBlur } from "../../raster/blur.ts";
import type { Plane } from "../../raster/picture.ts";
import type { LinearView } from "../view.ts";

/** A channel whose ground is clipped in part. */
export interface Clipping {
  readonly channel: number;
  /** 1 where it is clipped, pixel by pixel. */
  readonly pixels: Uint8Array;
  /** The same, block by block: 1 where any pixel is. */
  readonly blocks: Uint8Array;
  /** Share of each block that is not clipped, 0..1: 1 within a spot on clipped ground that is dark enough. */
  readonly open: Plane;
}

/** Shares of unclipped ground between which a channel is clipped in part; below it is left out of everything. */
const PARTLY = [0.15, 0.97] as const;
/** At 365 nm what is clipped is mostly a blinding spot: a channel is left out where this share is not met. */
const LEAST_GLOWING = 0.34;

/** Channels to be mixed; all three where the ground of all is clipped. */
export function liveChannels(usable: readonly number[], emission: boolean): boolean[] {
  const live = usable.map((u) => u > (emission ? LEAST_GLOWING : PARTLY[0]));
  return live.some(Boolean) ? live : live.map(() => true);
}

/**
 * Channels whose ground is clipped in part, the most clipped first; none at 365 nm.
 * @param usable share of each channel's pixels that is not clipped
 * @param factor pixels a side of the blocks
 */
export function clippingsOf({ clipped, light, r }: LinearView, usable: readonly number[], factor: number): Clipping[] {
  if (light === "uv365") return [];
  return [0, 1, 2]
    .filter((c) => usable[c] > PARTLY[0] && usable[c] < PARTLY[1])
    .sort((a, b) => usable[a] - usable[b])
    .map((channel) => {
      const pixels = clipped.map((bits) => (bits >> channel) & 1);
      const share = blockMeans({ width: r.width, height: r.height, data: Float32Array.from(pixels) }, factor);
      const open = boxBlur({ ...share, data: share.data.map((part) => 1 - part) }, 1, 1);
      return { channel, pixels, blocks: Uint8Array.from(share.data, (part) => (part > 0 ? 1 : 0)), open };
    });
}
