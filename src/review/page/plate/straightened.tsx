import { lineAt, type ResultLane, type ResultLine, type ResultPlate, type ResultSpot } from "../../../model/index.ts";
import { type Palette, toneOf } from "../../../report/drawing/palette.ts";
import { laneXAt, laneYAt, placeLane } from "../../../report/drawing/placement.ts";
import { rfInWords } from "../../../report/words.ts";
import type { PagePlatePicture } from "../../api.ts";
import { arrowStep, followDrag, holdStill, pointIn, unitsPerPixel } from "./drag.ts";
import { type At, footOf, type Held, sameHeld, shortLabel, sizeOfMarks, sizeOfSpot, type TabSize } from "./marks.ts";
import { rfAt } from "./mendings.ts";
import { FINGER, nearestHeld } from "./nearest.ts";

/** Something held, moved by this much (plate fractions), until the reading has followed. */
export interface Moved {
  readonly held: Held;
  readonly by: At;
}

export interface StraightenedProps {
  readonly plate: ResultPlate;
  readonly picture: PagePlatePicture;
  readonly palette: Palette;
  readonly held: Held | null;
  readonly moved: Moved | null;
  /** Pressing on the plate puts something there. */
  readonly placing: boolean;
  readonly onHold: (held: Held) => void;
  readonly onMove: (moved: Moved) => void;
  readonly onDrop: (moved: Moved | null) => void;
  /** The keys have left something alone. */
  readonly onRest: (held: Held) => void;
  readonly onPlace: (at: At) => void;
}

/** A plate with its perspective undone; lines, lanes and spots can be taken hold of. */
export function Straightened(props: StraightenedProps) {
  const { plate, picture, moved } = props;
  const { width: w, height: h } = picture;
  const shift = (held: Held): At => (moved && sameHeld(moved.held, held) ? moved.by : { x: 0, y: 0 });
  const size = sizeOfMarks(plate, w, h);
  const { unit } = size;
  /** What is nearest to a pointer; null where nothing is within a finger of it. */
  const meant = (svg: SVGSVGElement, event: { readonly clientX: number; readonly clientY: number }): Held | null => {
    const at = pointIn(svg, event);
    return at && nearestHeld(plate, at, size, FINGER * unitsPerPixel(svg));
  };
  const press = (event: PointerEvent, own: Held | null) => {
    const grip = event.currentTarget as SVGGraphicsElement;
    const svg = grip.ownerSVGElement ?? (grip as SVGSVGElement);
    const held = meant(svg, event) ?? own;
    if (held === null) return;
    // Keys move what is in hand, not what lay under the finger: the browser puts its focus there after this.
    requestAnimationFrame(() => svg.querySelector<SVGGElement>(`[data-held='${nameOf(held)}']`)?.focus());
    // The plate's own listener would take it a second time.
    event.stopPropagation();
    props.onHold(held);
    const only = (by: At): At => (held.what === "lane" ? { x: by.x / w, y: 0 } : { x: 0, y: by.y / h });
    followDrag(event, {
      onMove: (by) => props.onMove({ held, by: only(by) }),
      onEnd: (by) => props.onDrop(by && { held, by: only(by) }),
    });
  };
  const grip = (held: Held, label: string, free: "x" | "y") => ({
    tabIndex: 0,
    role: "button" as const,
    "data-held": nameOf(held),
    "aria-label": label,
    "aria-pressed": props.held !== null && sameHeld(props.held, held),
    onTouchStart: holdStill,
    onPointerDown: (event: PointerEvent) => {
      if (!props.placing) press(event, held);
    },
    onKeyDown: (event: KeyboardEvent) => {
      if (event.key === "Enter" || event.key === " ") {
        event.preventDefault();
        props.onHold(held);
        return;
      }
      const step = arrowStep(event);
      if (step === null || step[free] === 0) return;
      event.preventDefault();
      const by = { x: free === "x" ? step.x / 400 : 0, y: free === "y" ? step.y / 400 : 0 };
      const before = shift(held);
      props.onHold(held);
      props.onMove({ held, by: { x: before.x + by.x, y: before.y + by.y } });
    },
    onBlur: () => props.onRest(held),
  });
  const chosen = (held: Held) => (props.held !== null && sameHeld(props.held, held) ? " held" : "");
  return (
    <svg
      class={`plate${props.placing ? " placing" : ""}`}
      viewBox={`0 0 ${w} ${h}`}
      role="group"
      aria-label={`Plate ${plate.id}, straightened`}
      onTouchStart={(event) => {
        if (!props.placing && meant(event.currentTarget, event.touches[0])) holdStill(event);
      }}
      onPointerDown={(event) => {
        if (!props.placing) return press(event, null);
        const at = pointIn(event.currentTarget, event);
        if (at) props.onPlace({ x: at.x / w, y: at.y / h });
      }}
    >
      <image href={picture.href} width={w} height={h} />
      {(["origin", "front"] as const).map((what) => {
        const d = linePath(plate[what], w, h, shift({ what }).y);
        const told = `${what === "origin" ? "Origin" : "Solvent front"}, ${plate[what].source}`;
        return (
          <g key={what} class={`mark line${chosen({ what })}`} {...grip({ what }, told, "y")}>
            <path d={d} class="reach" />
            <path d={d} class="halo" />
            <path d={d} class={`ink${plate[what].source === "assumed" ? " assumed" : ""}`} />
            <text
              x={w - 6 * unit}
              y={lineAt({ ...plate[what], sd: 0 }, 1) * h + shift({ what }).y * h - 6 * unit}
              font-size={13 * unit}
              text-anchor="end"
            >
              {what}
            </text>
          </g>
        );
      })}
      {plate.lanes.map((lane) => {
        const held: Held = { what: "lane", lane: lane.index };
        const dx = shift(held).x * w;
        const foot = footOf(plate, lane);
        const label = shortLabel(lane.label);
        const tab = size.tab(lane.label);
        return (
          <g
            key={`lane ${lane.index}`}
            class={`mark lane${chosen(held)}`}
            transform={`translate(${dx} 0)`}
            {...grip(held, `Lane ${lane.label}`, "x")}
            data-lane={lane.index}
          >
            <path d={lanePath(plate, lane, w, h)} class="halo thin" />
            <path d={lanePath(plate, lane, w, h)} class="ink thin" />
            <rect
              x={lane.x * w - 22 * unit}
              y={foot * h - 22 * unit}
              width={44 * unit}
              height={44 * unit}
              class="reach-box"
            />
            <rect
              x={lane.x * w - tab / 2}
              y={foot * h - 12 * unit}
              width={tab}
              height={24 * unit}
              rx={5 * unit}
              class="tab"
            />
            <text x={lane.x * w} y={foot * h + 4.5 * unit} font-size={13 * unit} text-anchor="middle" class="tabtext">
              {label}
            </text>
          </g>
        );
      })}
      {plate.lanes.flatMap((lane) =>
        lane.spots.map((spot, i) => {
          const held: Held = { what: "spot", lane: lane.index, spot: i };
          const dy = shift(held).y;
          const tone = toneOf(props.palette, spot.component);
          const letter = spot.component === null ? "" : tone.letter;
          return (
            <SpotMark
              key={`spot ${lane.index} ${i}`}
              {...{ plate, lane, spot, dy, size }}
              letter={letter}
              colour={tone.colour}
              chosen={chosen(held)}
              grip={grip(held, spotLabel(lane, spot, letter), "y")}
            />
          );
        }),
      )}
    </svg>
  );
}

interface SpotMarkProps {
  readonly plate: ResultPlate;
  readonly lane: ResultLane;
  readonly spot: ResultSpot;
  readonly dy: number;
  readonly size: TabSize;
  readonly letter: string;
  readonly colour: string;
  readonly chosen: string;
  readonly grip: object;
}

function SpotMark({ plate, lane, spot, dy, size, letter, colour, chosen, grip }: SpotMarkProps) {
  const { w, h, unit } = size;
  const { rx, ry } = sizeOfSpot(placeLane(plate, lane), spot, size);
  const [cx, cy] = [spot.x * w, (spot.y + dy) * h];
  const rf = dy === 0 ? spot.rf : rfAt(plate, lane, spot.y + dy);
  return (
    <g
      class={`mark spot${chosen}${spot.component === null ? " unnamed" : ""}`}
      {...grip}
      data-spot={`${lane.index} ${rfInWords(spot.rf)}`}
    >
      <ellipse cx={cx} cy={cy} rx={Math.max(rx, 18 * unit)} ry={Math.max(ry, 14 * unit)} class="reach-box" />
      <ellipse cx={cx} cy={cy} rx={rx} ry={ry} class="halo" />
      <ellipse cx={cx} cy={cy} rx={rx} ry={ry} class="ink" style={{ stroke: colour }} />
      <text x={cx} y={cy + ry + 13 * unit} font-size={11.5 * unit} text-anchor="middle">
        {`${letter} ${rfInWords(rf)}`.trim()}
      </text>
    </g>
  );
}

/** What stands at the spot, then what it is: a voice that says what it sees is understood. */
function spotLabel(lane: ResultLane, spot: ResultSpot, letter: string): string {
  const seen = `${letter} ${rfInWords(spot.rf)}`.trim();
  return `${seen}: spot in lane ${lane.label}${spot.component === null ? ", no component" : ""}`;
}

function nameOf(held: Held): string {
  return Object.values(held).join(" ");
}

function linePath(line: ResultLine, w: number, h: number, dy: number): string {
  const points = Array.from({ length: 17 }, (_, i) => i / 16);
  return `M${points.map((u) => `${(u * w).toFixed(1)} ${((lineAt({ ...line, sd: 0 }, u) + dy) * h).toFixed(1)}`).join("L")}`;
}

function lanePath(plate: ResultPlate, lane: ResultLane, w: number, h: number): string {
  const place = placeLane(plate, lane);
  return `M${[0, 1]
    .map((rf) => laneYAt(place, rf))
    .map((y) => `${(laneXAt(place, y) * w).toFixed(1)} ${(y * h).toFixed(1)}`)
    .join("L")}`;
}
