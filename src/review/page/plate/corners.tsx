import { useMemo, useState } from "preact/hooks";
import type { Point, ResultPhoto } from "../../../model/index.ts";
import { annotation } from "../../../report/annotation/annotationSvg.ts";
import type { Palette } from "../../../report/drawing/palette.ts";
import type { PagePhoto, PageState } from "../../api.ts";
import { arrowStep, followDrag, holdStill } from "./drag.ts";

export interface CornersProps {
  readonly state: PageState;
  readonly photo: ResultPhoto;
  readonly picture: PagePhoto;
  /** Which of the photo's plates. */
  readonly plate: string;
  readonly palette: Palette;
  /** Corners on their way; null: let go, or put back. */
  readonly onMove: (corners: readonly Point[] | null) => void;
  /** New corners in pixels of the upright original. */
  readonly onCorners: (corners: readonly Point[]) => void;
}

const NAMES = ["Top left", "Top right", "Bottom right", "Bottom left"];

/** The whole photo with what was read drawn over it; the plate's corners can be dragged. */
export function Corners({ state, photo, picture, plate, palette, onMove, onCorners }: CornersProps) {
  const scale = photo.width / picture.width;
  const read = photo.corners[photo.plates.indexOf(plate)] ?? [];
  const [draft, setDraft] = useState<{ of: readonly Point[]; corners: readonly Point[] } | null>(null);
  const corners = draft?.of === read ? draft.corners : read;
  const carry = (to: readonly Point[]) => {
    setDraft({ of: read, corners: to });
    onMove(to);
  };
  const moved = (i: number, x: number, y: number) => read.map((c, k): Point => (k === i ? [c[0] + x, c[1] + y] : c));
  const radius = picture.width / 55;
  const over = useMemo(
    () => ({ __html: annotation(state.result!, photo, scale, palette).text }),
    [state.result, photo, scale, palette],
  );
  return (
    <svg
      class="plate photo"
      viewBox={`0 0 ${picture.width} ${picture.height}`}
      role="group"
      aria-label={`Photo ${photo.file}`}
    >
      <image href={picture.href} width={picture.width} height={picture.height} />
      <g dangerouslySetInnerHTML={over} />
      <path class="frame" d={`M${corners.map(([x, y]) => `${x / scale} ${y / scale}`).join("L")}Z`} />
      {corners.map(([x, y], i) => (
        <g
          key={NAMES[i]}
          class="mark corner"
          tabIndex={0}
          role="button"
          aria-label={`${NAMES[i]} corner`}
          data-corner={i}
          onTouchStart={holdStill}
          onPointerDown={(event) =>
            followDrag(event, {
              onMove: (by) => carry(moved(i, by.x * scale, by.y * scale)),
              onEnd: (by) => {
                onMove(null);
                if (by) onCorners(moved(i, by.x * scale, by.y * scale));
                else setDraft(null);
              },
            })
          }
          onKeyDown={(event) => {
            const step = arrowStep(event);
            if (step === null) return;
            event.preventDefault();
            const now = corners.map((c, k): Point => (k === i ? [c[0] + step.x * scale, c[1] + step.y * scale] : c));
            carry(now);
          }}
          onBlur={() => {
            onMove(null);
            if (draft?.of === read && draft.corners !== read) onCorners(draft.corners);
          }}
        >
          <circle cx={x / scale} cy={y / scale} r={radius} class="reach-box" />
          <circle cx={x / scale} cy={y / scale} r={radius} class="halo" />
          <circle cx={x / scale} cy={y / scale} r={radius} class="ink" />
        </g>
      ))}
    </svg>
  );
}
