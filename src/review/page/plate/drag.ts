import type { At } from "./marks.ts";

/** Where a pointer is in an SVG's own units; null where it is not on the screen. */
export function pointIn(svg: SVGSVGElement, event: { readonly clientX: number; readonly clientY: number }): At | null {
  const matrix = svg.getScreenCTM();
  if (matrix === null) return null;
  const { x, y } = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse());
  return { x, y };
}

/** How many units of an SVG a CSS pixel is; 1 where it is not on the screen. */
export function unitsPerPixel(svg: SVGSVGElement): number {
  return 1 / (svg.getScreenCTM()?.a || 1);
}

export interface DragEars {
  /** Way from where it was taken hold of, in the units of the drawing. */
  readonly onMove: (by: At) => void;
  /** Let go: `by` is null where the drag was broken off. */
  readonly onEnd: (by: At | null) => void;
}

/** Follows a pointer that took hold of something in an SVG until it lets go. A press that hardly moves is no drag. */
export function followDrag(event: PointerEvent, { onMove, onEnd }: DragEars): void {
  const grip = event.currentTarget as SVGGraphicsElement;
  const svg = grip.ownerSVGElement ?? (grip as SVGSVGElement);
  const from = pointIn(svg, event);
  if (event.button !== 0 || !from) return;
  const { pointerId } = event;
  grip.setPointerCapture(pointerId);
  let by: At | null = null;
  const moved = (e: PointerEvent) => {
    const to = e.pointerId === pointerId ? pointIn(svg, e) : null;
    if (to === null) return;
    if (by === null && Math.hypot(e.clientX - event.clientX, e.clientY - event.clientY) < 4) return;
    by = { x: to.x - from.x, y: to.y - from.y };
    onMove(by);
  };
  const ended = (e: PointerEvent) => {
    if (e.pointerId !== pointerId) return;
    grip.removeEventListener("pointermove", moved);
    grip.removeEventListener("pointerup", ended);
    grip.removeEventListener("pointercancel", ended);
    onEnd(e.type === "pointerup" ? by : null);
  };
  grip.addEventListener("pointermove", moved);
  grip.addEventListener("pointerup", ended);
  grip.addEventListener("pointercancel", ended);
}

/**
 * Keeps the page from scrolling under a finger that has taken hold of a mark: for shapes within an SVG browsers pass over
 * `touch-action`. What a pointer does is told all the same.
 */
export function holdStill(event: TouchEvent): void {
  event.preventDefault();
}

/** Arrow keys as steps of one unit, with Shift of ten. */
export function arrowStep(event: KeyboardEvent): At | null {
  const by = event.shiftKey ? 10 : 1;
  switch (event.key) {
    case "ArrowLeft":
      return { x: -by, y: 0 };
    case "ArrowRight":
      return { x: by, y: 0 };
    case "ArrowUp":
      return { x: 0, y: -by };
    case "ArrowDown":
      return { x: 0, y: by };
    default:
      return null;
  }
}
