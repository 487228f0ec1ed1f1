import { memo } from "preact/compat";
import { useMemo } from "preact/hooks";
import type { ResultFraction } from "../../../model/index.ts";
import type { LightRow } from "../../../report/drawing/laneRow.ts";
import type { Palette } from "../../../report/drawing/palette.ts";
import { placeLane, stripTransform } from "../../../report/drawing/placement.ts";
import { laneStripSvg } from "../../../report/drawing/strip.ts";
import { sharesOf, tubeSvg } from "../../../report/drawing/tube.ts";
import { Drawn } from "../parts/drawn.tsx";
import type { Column, HungLane } from "./arrange.ts";

/** Sizes of what stands in a column, CSS pixels. */
export const SIZE = { tube: 68, radius: 19, font: 12, small: 10, beside: 14 } as const;
/** Letters stand closer by this, CSS pixels, so that three fit the narrowest place; more than so many are set smaller. */
const CLOSER = 3;
const LARGE_ONES = 3;
const RF = { rfTop: 1.07, rfBottom: -0.07 } as const;

export interface TubeProps {
  readonly column: Column;
  readonly tube: ResultFraction;
  readonly palette: Palette;
  readonly words: string;
  readonly chosen: boolean;
  readonly doubt: boolean;
  /** The one tube of the board that the Tab key reaches. */
  readonly reachable: boolean;
  readonly onChoose: (tube: number) => void;
}

/** A tube from above: what it holds, by letter and marks as well as colour. */
export const Tube = memo(function Tube(props: TubeProps) {
  const { column, tube, palette } = props;
  const svg = useMemo(() => {
    const drawn = tubeSvg({
      tube,
      cx: column.width / 2,
      cy: SIZE.radius + 7,
      r: SIZE.radius,
      palette,
      fontSize: sharesOf(tube).length > LARGE_ONES ? SIZE.small : SIZE.font,
    });
    // What is still too wide runs over into the neighbours' gaps rather than being cut off.
    return `<svg class="drawing" width="${column.width}" height="${SIZE.tube}" viewBox="0 0 ${column.width} ${SIZE.tube}" overflow="visible" word-spacing="-${CLOSER}" aria-hidden="true" focusable="false">${drawn}</svg>`;
  }, [tube, palette, column.width]);
  return (
    <button
      type="button"
      class={`tube${props.chosen ? " chosen" : ""}${props.doubt ? " doubt" : ""}`}
      style={{ left: `${column.x}px`, width: `${column.width}px` }}
      data-tube={tube.number}
      aria-pressed={props.chosen}
      tabIndex={props.reachable ? 0 : -1}
      onClick={() => props.onChoose(tube.number)}
    >
      <span class="unseen">{props.words}</span>
      <Drawn svg={svg} />
    </button>
  );
});

export interface StripProps {
  readonly column: Column;
  readonly light: LightRow;
  readonly palette: Palette;
  readonly height: number;
  readonly chosen: boolean;
  readonly onLook: (hung: HungLane, light: LightRow) => void;
}

/** The lanes of one column under one light: the evidence. A press leads to the whole plate. */
export const Strips = memo(function Strips({ column, light, palette, height, chosen, onLook }: StripProps) {
  if (column.lanes.length === 0) {
    return (
      <div class="strip none" style={{ left: `${column.x}px`, width: `${column.width}px`, height: `${height}px` }}>
        <span>not spotted</span>
      </div>
    );
  }
  const each = column.width / column.lanes.length;
  return (
    <>
      {column.lanes.map((hung, i) => (
        <button
          key={`${hung.plate.id}/${hung.lane.index}`}
          type="button"
          class={`strip${chosen ? " chosen" : ""}`}
          style={{ left: `${column.x + i * each}px`, width: `${each}px`, height: `${height}px` }}
          tabIndex={-1}
          onClick={() => onLook(hung, light)}
        >
          <span class="unseen">{`Lane ${hung.lane.label} of plate ${hung.plate.id}, ${light.name}: show the plate`}</span>
          <Lane hung={hung} light={light} palette={palette} width={each} height={height} />
        </button>
      ))}
    </>
  );
});

interface LaneProps {
  readonly hung: HungLane;
  readonly light: LightRow;
  readonly palette: Palette;
  readonly width: number;
  readonly height: number;
}

function Lane({ hung: { plate, lane }, light, palette, width, height }: LaneProps) {
  const svg = useMemo(() => {
    const picture = light.pictures.get(plate.id) ?? null;
    const place = placeLane(plate, lane);
    const most = { width: width - SIZE.beside - 4, height, ...RF };
    // No wider than the lane itself, so that the letters stand beside it.
    const own = picture ? stripTransform(place, picture, most).width : most.width;
    const strip = laneStripSvg({
      picture,
      place,
      spots: lane.spots,
      light: light.light,
      palette,
      x: (width - own - SIZE.beside) / 2,
      y: 0,
      window: { ...most, width: own },
      beside: SIZE.beside,
      fontSize: 11,
    });
    return `<svg class="drawing" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" aria-hidden="true" focusable="false">${strip}</svg>`;
  }, [plate, lane, light, palette, width, height]);
  return <Drawn svg={svg} />;
}

/** Height of an Rf in a strip. */
export function stripY(rf: number, height: number): number {
  return ((RF.rfTop - rf) / (RF.rfTop - RF.rfBottom)) * height;
}
