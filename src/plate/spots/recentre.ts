import { lineAt } from "../../model/index.ts";
import { heightOfRf, type LaneTrack, type PlateFrame } from "../frame.ts";

/** Where a clear spot stands in its lane: offset from the lane's centre in pitches. */
export interface SpotPlace {
  readonly lane: number;
  readonly rf: number;
  readonly offset: number;
}

/** How far hands and solvent set a lane off, in pitches, and how much a lane leans over its whole way. */
const PLACE_SD = 0.1;
const LEAN_SD = 0.08;
const SPOT_SD = 0.05;

/** Moves each lane, and leans it, as its own clear spots say, held to where it was. */
export function recentred(frame: PlateFrame, places: readonly SpotPlace[]): PlateFrame {
  const tracks = frame.tracks.map((track, lane): LaneTrack => {
    const own = places.filter((p) => p.lane === lane && Math.abs(p.offset) < 0.4);
    if (own.length === 0) return track;
    const [shift, lean] = place(own);
    const way = lineAt(frame.origin, track.x) - heightOfRf(frame, track.x, 1);
    return { x: track.x + shift * frame.pitch, drift: track.drift + (lean * frame.pitch) / Math.max(way, 1e-3) };
  });
  return { ...frame, tracks };
}

/** Least squares for offset = shift + lean * rf with Gaussian priors around 0. */
function place(own: readonly SpotPlace[]): [number, number] {
  let a = 1 / PLACE_SD ** 2;
  let b = 0;
  let c = 1 / LEAN_SD ** 2;
  let u = 0;
  let v = 0;
  for (const { rf, offset } of own) {
    const w = 1 / SPOT_SD ** 2;
    a += w;
    b += w * rf;
    c += w * rf * rf;
    u += w * offset;
    v += w * rf * offset;
  }
  const det = a * c - b * b;
  return [(c * u - b * v) / det, (a * v - b * u) / det];
}
