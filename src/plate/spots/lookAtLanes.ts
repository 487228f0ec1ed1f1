import type { PlateFrame } from "../frame.ts";
import type { MarkRow, SignalMap } from "../view.ts";
import { besideOf, commonAtOrigin, likeMarks } from "./around.ts";
import { detectPeaks, weighed } from "./detect.ts";
import { type Candidate, groupCandidates } from "./group.ts";
import { judge } from "./judge.ts";
import { levelsBeside, type Parted, partedAt } from "./levels.ts";
import type { Peak } from "./peaks.ts";
import { pencilAtOrigin } from "./pencil.ts";
import { withoutFlanks } from "./ringed.ts";
import type { LookedAt } from "./secondLook.ts";
import type { View } from "./views.ts";

/**
 * Finds the candidates of all lanes and judges each by itself; then again in lanes where spots run into one another that stand apart in
 * the lanes beside.
 * @returns the candidates of each lane
 */
export function lookAtLanes(
  maps: readonly SignalMap[],
  views: readonly View[],
  frame: PlateFrame,
  marks: readonly (readonly MarkRow[])[],
): readonly (readonly LookedAt[])[] {
  const found = views.map(({ profiles, prior }) =>
    profiles.profiles.map((profile, lane) => detectPeaks(profile, profiles.noise, prior, profiles.saturated[lane])),
  );
  const apart = frame.tracks.map((_, lane) =>
    candidatesIn(
      views,
      found.map((lanes) => lanes[lane]),
    ),
  );
  const common = commonAtOrigin(apart, views.length);
  const pencil = pencilAtOrigin(marks.flat(), maps[0], frame);
  const lookAt = (groups: readonly Candidate[][][], lane: number, put: readonly Peak[]) =>
    groups[lane].map((group, k): LookedAt => {
      const [lead] = group;
      const others = groups[lane].filter((_, i) => i !== k).map((g) => g[0].peak);
      const look = judge(maps, views, frame, lane, group, others, {
        beside: besideOf(groups, lane, lead.peak.mode),
        marked: likeMarks(group, common),
        pencil: { here: pencil.lanes[lane], share: pencil.share },
      });
      return { ...look, lead, mode: lead.peak.mode, put: put.includes(lead.peak) };
    });
  const first = apart.map((_, lane) => lookAt(apart, lane, []));
  const parted = first.map((_, lane) => partedIn(views, found, lane, levelsBeside(first, lane)));
  const groups = parted.map((inViews, lane) =>
    inViews.some(Boolean)
      ? candidatesIn(
          views,
          inViews.map((own, view) => own?.peaks ?? found[view][lane]),
        )
      : apart[lane],
  );
  return first.map((looks, lane) => {
    const put = parted[lane].flatMap((own) => own?.put ?? []);
    return put.length > 0 ? lookAt(groups, lane, put) : looks;
  });
}

/** A lane's peaks in each view as the lanes beside part them; null where they do not. */
function partedIn(
  views: readonly View[],
  found: readonly (readonly (readonly Peak[])[])[],
  lane: number,
  levels: readonly number[],
): (Parted | null)[] {
  return views.map(({ profiles, prior }, view) => {
    const peaks = found[view][lane];
    if (peaks.length === 0 || levels.length === 0) return null;
    return partedAt(weighed(profiles.profiles[lane], profiles.noise, profiles.saturated[lane]), peaks, levels, prior);
  });
}

/** The candidates of one lane: its peaks in all views, those at one place together. */
function candidatesIn(views: readonly View[], peaks: readonly (readonly Peak[])[]): Candidate[][] {
  const candidates = views.flatMap(({ photo, profiles }, view) =>
    peaks[view].map((peak) => ({
      peak,
      view,
      photo,
      significance: peak.height / profiles.noise[Math.round(peak.mode)],
    })),
  );
  return withoutFlanks(groupCandidates(candidates));
}
