import { useState } from "preact/hooks";
import type { Mending, ResultLane, ResultPhoto, ResultPlate } from "../../../model/index.ts";
import { percent, rfInWords } from "../../../report/words.ts";
import { ADDRESS } from "../../api.ts";
import { sentence } from "../state/words.ts";
import type { Held } from "./marks.ts";
import { type mendingsOf, yAt } from "./mendings.ts";

export interface InHandProps {
  readonly plate: ResultPlate;
  readonly photo: ResultPhoto | null;
  readonly held: Held | null;
  readonly whole: boolean;
  readonly mend: ReturnType<typeof mendingsOf>;
  readonly onMend: (mending: Mending) => void;
  readonly onHold: (held: Held | null) => void;
}

/** What the person has hold of on the plate, in words and figures, with what can be done about it. */
export function InHand({ plate, photo, held, whole, mend, onMend, onHold }: InHandProps) {
  const lane = held && "lane" in held ? plate.lanes.find((l) => l.index === held.lane) : undefined;
  if (held?.what === "lane" && lane)
    return <LaneInHand plate={plate} lane={lane} mend={mend} onMend={onMend} onHold={onHold} />;
  const spot = held?.what === "spot" ? lane?.spots[held.spot] : undefined;
  if (lane && spot)
    return (
      <div class="grasp" data-grasp="spot">
        <h3>
          Spot at Rf {rfInWords(spot.rf)}, lane {lane.label}
        </h3>
        <p>
          {spot.component === null ? "Belongs to no component" : `Component ${spot.component}`};{" "}
          {percent(spot.confidence)} sure of this spot{spot.flags.length > 0 ? `; ${spot.flags.join(", ")}` : ""}.
        </p>
        <p class="hint">Drag it along its lane, or use the arrow keys.</p>
        <button
          type="button"
          onClick={() => {
            onMend(mend.strikeSpot(lane, spot));
            onHold(null);
          }}
        >
          Strike this spot
        </button>
      </div>
    );
  if (held?.what === "origin" || held?.what === "front") {
    const line = plate[held.what];
    return (
      <div class="grasp" data-grasp={held.what}>
        <h3>{held.what === "origin" ? "Origin" : "Solvent front"}</h3>
        <p>
          {line.source === "found"
            ? "Found in the photo."
            : line.source === "given"
              ? "Given."
              : "Assumed: it was not seen."}{" "}
          At {Math.round(line.y * 1000) / 10} % of the plate’s height from the top.
        </p>
        <p class="hint">Drag it up or down, or use the arrow keys. Every Rf of the plate follows.</p>
      </div>
    );
  }
  return (
    <div class="grasp" data-grasp="none">
      <h3>{whole ? "The plate’s corners" : "Set right what was read wrongly"}</h3>
      <p class="hint">
        {whole
          ? "Drag a corner to where the plate’s own corner is, or use the arrow keys. The plate is read anew from there."
          : "Take hold of the origin, the front, a lane’s label or a spot: drag it, or use the arrow keys. Press a label to say which tube a lane is."}
      </p>
      {photo?.quality?.advice && <p>{sentence(photo.quality.advice)}.</p>}
      {photo && (
        <p>
          <a href={`${ADDRESS.original}/${encodeURIComponent(photo.file)}`} target="_blank" rel="noreferrer">
            The photo as it was taken
          </a>
        </p>
      )}
    </div>
  );
}

interface LaneInHandProps extends Pick<InHandProps, "plate" | "mend" | "onMend" | "onHold"> {
  readonly lane: ResultLane;
}

function LaneInHand({ plate, lane, mend, onMend, onHold }: LaneInHandProps) {
  const [typed, setTyped] = useState(lane.label);
  const [rf, setRf] = useState("0.50");
  const height = Number(rf.replace(",", "."));
  const valid = height > 0 && height <= 1;
  return (
    <div class="grasp" data-grasp="lane">
      <h3>Lane {lane.index} from the left</h3>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          if (typed.trim() !== "" && typed.trim() !== lane.label) onMend(mend.nameLane(lane, typed));
        }}
      >
        <label>
          Tube number, or a name for a reference
          <input value={typed} maxLength={40} onInput={(event) => setTyped(event.currentTarget.value)} />
        </label>
        <button type="submit" disabled={typed.trim() === "" || typed.trim() === lane.label}>
          It is this one
        </button>
      </form>
      <ul class="spotlist">
        {lane.spots.map((spot, i) => (
          <li key={`${spot.rf} ${spot.x}`}>
            <button type="button" class="link" onClick={() => onHold({ what: "spot", lane: lane.index, spot: i })}>
              Rf {rfInWords(spot.rf)} {spot.component ?? "–"}
            </button>
            <button
              type="button"
              onClick={() => onMend(mend.strikeSpot(lane, spot))}
              aria-label={`Strike the spot at Rf ${rfInWords(spot.rf)}`}
            >
              Strike
            </button>
          </li>
        ))}
      </ul>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          if (valid) onMend(mend.addSpot(lane, yAt(plate, lane, height)));
        }}
      >
        <label>
          A spot was missed at Rf
          <input inputMode="decimal" value={rf} onInput={(event) => setRf(event.currentTarget.value)} />
        </label>
        <button type="submit" disabled={!valid}>
          Add it
        </button>
      </form>
      {plate.lanes.length > 1 && (
        <button
          type="button"
          onClick={() => {
            onMend(mend.strikeLane(lane));
            onHold(null);
          }}
        >
          Strike this lane
        </button>
      )}
    </div>
  );
}
