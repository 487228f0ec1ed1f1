import { useEffect, useRef, useState } from "preact/hooks";
import type { Mending, ResultPlate } from "../../../model/index.ts";
import type { Palette } from "../../../report/drawing/palette.ts";
import { lightInWords } from "../../../report/words.ts";
import type { PageState } from "../../api.ts";
import { Icon } from "../parts/icon.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { Corners } from "./corners.tsx";
import { InHand } from "./inHand.tsx";
import { type At, type Held, sameHeld } from "./marks.ts";
import { laneNear, mendingsOf, widestGap } from "./mendings.ts";
import { type Moved, Straightened } from "./straightened.tsx";

/** Which plate is open, and where the eye should go. */
export interface Looking {
  readonly plate: string;
  readonly file: string | null;
  readonly lane: number | null;
  /** True: the photo as it was taken; false: the plate straightened. */
  readonly whole: boolean;
}

export interface PlateViewProps {
  readonly state: PageState;
  readonly looking: Looking;
  readonly palette: Palette;
  /** Acts are on their way or being worked in. */
  readonly busy: boolean;
  readonly refused: string | null;
  readonly onLook: (looking: Looking) => void;
  readonly onMend: (mending: Mending) => void;
  /** What is held would be mended so, were it let go; null: it is held no more. */
  readonly onAhead: (mending: Mending | null) => void;
  readonly onClose: () => void;
}

/** One plate, large: what was read is drawn over it, and whatever was read wrongly can be set right. */
export function PlateView(props: PlateViewProps) {
  const { state, looking, palette, onLook } = props;
  const result = state.result!;
  const at = result.plates.findIndex((p) => p.id === looking.plate);
  const plate: ResultPlate | undefined = result.plates[at];
  const [held, setHeld] = useState<Held | null>(looking.lane === null ? null : { what: "lane", lane: looking.lane });
  const [moved, setMoved] = useState<Moved | null>(null);
  // What is on its way, and not let go yet.
  const moving = useRef<Moved | null>(null);
  const [placing, setPlacing] = useState<"lane" | "spot" | null>(null);
  const [zoom, setZoom] = useState(1);
  // What was let go stays where it was put until the reading has followed, or the act was refused.
  useEffect(() => setMoved(moving.current), [plate, props.refused]);
  useEffect(() => {
    setHeld(looking.lane === null ? null : { what: "lane", lane: looking.lane });
    setPlacing(null);
  }, [looking.plate, looking.lane]);
  if (plate === undefined)
    return (
      <Sheet title="Plate" name="plateview" onClose={props.onClose}>
        <p>This plate is in no photo any more.</p>
      </Sheet>
    );
  const pictures = state.platePictures.filter((p) => p.plate === plate.id);
  const picture = pictures.find((p) => p.file === looking.file) ?? pictures[0];
  const photo = result.photos.find((p) => p.file === picture?.file);
  const whole = state.photos.find((p) => p.file === picture?.file);
  const mend = mendingsOf(result, plate);
  const mendingOf = ({ held, by }: Moved): Mending | null => {
    if (!("lane" in held)) return mend.line(held.what, plate[held.what].y + by.y);
    const lane = plate.lanes.find((l) => l.index === held.lane);
    if (!("spot" in held)) return lane ? mend.moveLane(lane, lane.x + by.x) : null;
    const spot = lane?.spots[held.spot];
    return lane && spot ? mend.moveSpot(lane, spot, spot.y + by.y) : null;
  };
  const move = (m: Moved | null) => {
    moving.current = m;
    setMoved(m);
    props.onAhead(m && mendingOf(m));
  };
  const drop = (m: Moved | null) => {
    moving.current = null;
    setMoved(m);
    const mending = m && mendingOf(m);
    props.onAhead(null);
    if (mending) props.onMend(mending);
  };
  const place = ({ x, y }: At) => {
    const lane = laneNear(plate, x, y);
    if (placing === "lane") props.onMend(mend.addLane(x));
    else if (placing === "spot" && lane) props.onMend(mend.addSpot(lane, y));
    setPlacing(null);
  };
  const other = (by: number) => {
    const next = result.plates[at + by];
    if (next) onLook({ plate: next.id, file: null, lane: null, whole: looking.whole });
  };
  return (
    <Sheet title={`Plate ${plate.id}`} name="plateview" onClose={props.onClose}>
      <div class="platebar">
        <button type="button" onClick={() => other(-1)} disabled={at <= 0}>
          <Icon name="back" />
          <span class="unseen">Plate before</span>
        </button>
        <button type="button" onClick={() => other(1)} disabled={at >= result.plates.length - 1}>
          <Icon name="next" />
          <span class="unseen">Plate after</span>
        </button>
        <span class="choice" role="group" aria-label="Light">
          {pictures.map((p) => (
            <button
              type="button"
              key={p.file}
              aria-pressed={p === picture}
              onClick={() => onLook({ ...looking, file: p.file })}
            >
              {lightInWords(p.light, p.stain)}
            </button>
          ))}
        </span>
        <span class="choice" role="group" aria-label="View">
          <button type="button" aria-pressed={!looking.whole} onClick={() => onLook({ ...looking, whole: false })}>
            Straightened
          </button>
          <button type="button" aria-pressed={looking.whole} onClick={() => onLook({ ...looking, whole: true })}>
            Photo and corners
          </button>
        </span>
        <button type="button" onClick={() => setZoom(zoom === 1 ? 1.7 : zoom === 1.7 ? 2.6 : 1)}>
          Zoom {zoom === 1 ? "1×" : zoom === 1.7 ? "2×" : "3×"}
        </button>
        {!looking.whole && (
          <>
            <button
              type="button"
              aria-pressed={placing === "lane"}
              onClick={() => setPlacing(placing === "lane" ? null : "lane")}
            >
              <Icon name="plus" />
              Lane
            </button>
            <button
              type="button"
              aria-pressed={placing === "spot"}
              onClick={() => setPlacing(placing === "spot" ? null : "spot")}
            >
              <Icon name="plus" />
              Spot
            </button>
          </>
        )}
        <span class="working" role="status">
          {props.busy ? "Working out what follows…" : ""}
        </span>
      </div>
      {props.refused !== null && <p class="why">Not kept: {props.refused}.</p>}
      {placing !== null && (
        <p class="placehint">
          {placing === "lane" ? "Press where the lane stands" : "Press where the spot is"}, or{" "}
          <button
            type="button"
            onClick={() => {
              const lane = held && "lane" in held ? plate.lanes.find((l) => l.index === held.lane) : plate.lanes[0];
              if (placing === "lane") place({ x: widestGap(plate), y: 0.5 });
              else if (lane) place({ x: lane.x, y: (plate.origin.y + plate.front.y) / 2 });
            }}
          >
            {placing === "lane" ? "put it in the widest gap" : "put it half way up the lane in hand"}
          </button>
          .
        </p>
      )}
      <div class="platebody">
        <div class="stage" data-zoom={zoom}>
          {picture && looking.whole && photo && whole ? (
            <Corners
              key={picture.file}
              state={state}
              photo={photo}
              picture={whole}
              plate={plate.id}
              palette={palette}
              onMove={(corners) => props.onAhead(corners && mend.corners(photo.file, corners))}
              onCorners={(corners) => props.onMend(mend.corners(photo.file, corners))}
            />
          ) : (
            picture && (
              <Straightened
                plate={plate}
                picture={picture}
                palette={palette}
                held={held}
                moved={moved}
                placing={placing !== null}
                onHold={setHeld}
                onMove={move}
                onDrop={drop}
                onRest={(h) => moving.current && sameHeld(moving.current.held, h) && drop(moving.current)}
                onPlace={place}
              />
            )
          )}
        </div>
        <InHand
          key={JSON.stringify(held)}
          plate={plate}
          photo={photo ?? null}
          held={looking.whole ? null : held}
          whole={looking.whole}
          mend={mend}
          onMend={props.onMend}
          onHold={setHeld}
        />
      </div>
    </Sheet>
  );
}
